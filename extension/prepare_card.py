"""Get the drawing ready: layers, panel and back sheet, and windows that can be clicked."""

from __future__ import annotations

import launch
from underlit.language import say

with launch.environment():
    from underlit.errors import UnknownChoice
    from underlit.workflows.prepare import prepare
    from underlit_host.action import Action, parse, yes_or_no
    from underlit_host.choosing import arrange
    from underlit_host.meaning import drawn_on_openings, has_die_cut, instead_of_outlines
    from underlit_host.preparing import BASE_MARGIN, draw_preparation, margin


class PrepareCard(Action):
    """Set roles, add layers, write the Openings layer."""

    def add_options(self, pars):
        """Panel, back sheet, and whether to draw one."""
        pars.add_argument("--panel", action="append", default=[], help="id or number of the panel")
        pars.add_argument("--base", action="append", default=[], help="id of the back sheet")
        pars.add_argument("--selection", default="auto", help="panel, base, none or auto")
        pars.add_argument("--add-base", type=yes_or_no("--add-base"), default=None)
        pars.add_argument(
            "--base-margin", type=margin, default=BASE_MARGIN, help="mm inside the panel"
        )

    def arrange(self):
        """Roles first: what is read depends on them."""
        options = self.options
        if options.selection not in ("auto", "panel", "base", "none"):
            raise UnknownChoice(
                say("--selection is auto, panel, base or none, not {text}.", text=options.selection)
            )
        self.told = arrange(self.svg, options.panel, options.base, options.ids, options.selection)

    def work(self, drawing, profile):
        """Look at the drawing."""
        margin = self.options.base_margin if self.options.add_base else None
        if not has_die_cut(drawing):
            return prepare(drawing, profile, margin, self.told, instead_of_outlines(self.svg))
        return prepare(drawing, profile, margin, self.told + drawn_on_openings(self.svg))

    def draw(self, root, drawing, outcome):
        """Layers, openings, back sheet; nothing where there is no panel."""
        if outcome.untouched:
            self.document = parse(self.data)
            return
        draw_preparation(root, outcome)


if __name__ == "__main__":
    PrepareCard().main()
