"""Print the making sheet: true-size pages, steps, circuit, supplies, notes; a page to share."""

from __future__ import annotations

import launch

with launch.environment():
    from underlit.workflows.build_sheet import build_sheet, read_choices
    from underlit_host.action import Action, drawing_path, yes_or_no
    from underlit_host.exporting import place_of, targets
    from underlit_host.price_list import read_list


class MakeBuildSheet(Action):
    """Write the sheet beside the drawing; the drawing itself stays as it is."""

    def add_options(self, pars):
        """Where, on what paper, for how many cards."""
        pars.add_argument("--folder", default="", help="folder of the files")
        pars.add_argument("--paper", default="a4", help="a4, letter, a3 or a size like 210x297")
        pars.add_argument("--copies", default="1", help="how many cards")
        pars.add_argument(
            "--pages", default="all", help="base, trace, window, stencil, front, share, all, none"
        )
        pars.add_argument("--prices", default="", help="price list (CSV)")
        pars.add_argument("--colours", default="", help="papers of the fronts: red, kraft, ...")
        pars.add_argument(
            "--refill", default="unlit", help="what other colours fill: unlit, pieces or all"
        )
        pars.add_argument("--overwrite", type=yes_or_no("--overwrite"), default=None)

    def work(self, drawing, profile):
        """Judge the card, then put it on pages."""
        o = self.options
        prices = read_list(o.prices)
        choices = read_choices(o.paper, o.copies, o.pages, prices, o.colours, o.refill)
        return build_sheet(drawing, profile, choices)

    def extra_files(self, outcome):
        """Every file, in the folder that was asked for."""
        o = self.options
        place = place_of(o.folder, drawing_path(o.input_file, o.output))
        return targets(place, outcome.files, bool(o.overwrite))

    def draw(self, root, drawing, outcome):
        """Nothing: printing leaves the drawing alone."""


if __name__ == "__main__":
    MakeBuildSheet().main()
