"""Pack to share: one folder with all that others need to make this card."""

from __future__ import annotations

import os

import launch

with launch.environment():
    from underlit.profiles.carrying import self_contained
    from underlit.workflows.pack import pack
    from underlit_host.action import Action, drawing_path, yes_or_no
    from underlit_host.exporting import place_of, targets
    from underlit_host.files import folder_for
    from underlit_host.packing import to_hand_on


class PackToShare(Action):
    """Write a folder beside the drawing; the drawing itself stays as it is."""

    def add_options(self, pars):
        """Where, and whether over an older one."""
        pars.add_argument("--folder", default="", help="where the new folder is to lie")
        pars.add_argument("--overwrite", type=yes_or_no("--overwrite"), default=None)

    def work(self, drawing, profile):
        """Make every file in memory."""
        asked = self.asked_profile() or drawing.profile
        path = drawing_path(self.options.input_file, self.options.output)
        self.settings = self_contained(asked, drawing.settings, os.path.dirname(path))
        return pack(drawing, profile, self.settings)

    def extra_files(self, outcome):
        """Every file in the new folder, the drawing first."""
        drawing = to_hand_on(self.svg, *self.settings)
        files = {outcome.drawing: drawing, **outcome.files}
        return targets(self.place, files, bool(self.options.overwrite))

    def _hand_back(self, outcome):
        o = self.options
        parent = place_of(o.folder, drawing_path(o.input_file, o.output))
        self.place = os.path.join(parent, outcome.folder)
        with folder_for(self.place):
            super()._hand_back(outcome)

    def draw(self, root, drawing, outcome):
        """Nothing: packing leaves the drawing alone."""


if __name__ == "__main__":
    PackToShare().main()
