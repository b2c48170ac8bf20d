"""Cutter files: tape and all other layers as outlines that an electronic cutter reads."""

from __future__ import annotations

import launch

with launch.environment():
    from underlit.workflows.export import export, read_choices
    from underlit_host.action import Action, drawing_path, yes_or_no
    from underlit_host.exporting import place_of, targets
    from underlit_host.leftovers import leftovers, sweep, without


class ExportTape(Action):
    """Write files beside the drawing; the drawing itself stays as it is."""

    def add_options(self, pars):
        """Where, what, how."""
        pars.add_argument("--folder", default="", help="folder of the files")
        pars.add_argument("--formats", default="svg,dxf", help="svg, dxf, dxf-r12, by commas")
        pars.add_argument("--arrange", default="in-place", help="in-place or packed")
        pars.add_argument("--pieces", default="strips", help="strips or whole")
        pars.add_argument("--copies", type=int, default=1, help="how many cards")
        pars.add_argument("--offer", type=yes_or_no("--offer"), default=True)
        pars.add_argument("--overwrite", type=yes_or_no("--overwrite"), default=None)
        pars.add_argument("--anyway", type=yes_or_no("--anyway"), default=None)

    def work(self, drawing, profile):
        """Judge the card, then cut it up."""
        o = self.options
        offer = o.offer is not False
        asked = read_choices(o.formats, o.arrange, o.pieces, o.copies, bool(o.anyway), offer)
        return export(drawing, profile, asked)

    def extra_files(self, outcome):
        """Every file, in the folder that was asked for."""
        return targets(self.place, outcome.files, bool(self.options.overwrite))

    def _hand_back(self, outcome):
        o = self.options
        self.place = place_of(o.folder, drawing_path(o.input_file, o.output))
        found = leftovers(self.place, outcome.stem, outcome.files)
        with without(self.place, found.surplus if o.overwrite else ()) as gone:
            others = [name for name in found.surplus if name not in gone]
            super()._hand_back(outcome.beside(gone, [*others, *found.stay]))
        sweep(self.place)

    def draw(self, root, drawing, outcome):
        """Nothing: exporting leaves the drawing alone."""


if __name__ == "__main__":
    ExportTape().main()
