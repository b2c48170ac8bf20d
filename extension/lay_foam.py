"""Lay the foam: pads or a frame between back sheet and panel, and cover and vellum if wanted."""

from __future__ import annotations

import launch

with launch.environment():
    from underlit.workflows.lay_foam import lay_foam
    from underlit.workflows.laying_foam import STYLES, FoamWish
    from underlit_host.action import Action, parse, yes_or_no
    from underlit_host.choices import number, one_of
    from underlit_host.foaming import draw_foam, remove_foam
    from underlit_host.layers import Ids


class LayFoam(Action):
    """Support the panel, keep off light, windows, parts and the spot to press."""

    def add_options(self, pars):
        """How far apart, how, and what else to draw."""
        pars.add_argument("--span", default=30.0, type=number("--span", 10, 200))
        pars.add_argument("--style", default="pads", type=one_of("--style", *STYLES))
        pars.add_argument("--off-tape", type=yes_or_no("--off-tape"), default=None)
        pars.add_argument("--cover", type=yes_or_no("--cover"), default=None)
        pars.add_argument("--diffuser", type=yes_or_no("--diffuser"), default=None)
        pars.add_argument("--replace", type=yes_or_no("--replace"), default=None)

    def arrange(self):
        """What is replaced is gone before the card is read."""
        options = self.options
        if options.replace:
            asked = {"foam": True, "cover": options.cover, "diffuser": options.diffuser}
            remove_foam(self.svg, [role for role, wanted in asked.items() if wanted])

    def work(self, drawing, profile):
        """Lay it out."""
        o = self.options
        span = 30.0 if o.span is None else o.span
        wish = FoamWish(span, o.style, bool(o.off_tape), bool(o.cover), bool(o.diffuser))
        return lay_foam(drawing, profile, wish, Ids(self.svg).free)

    def draw(self, root, drawing, outcome):
        """Each sheet on its layer; nothing where there is no place for foam."""
        if outcome.untouched:
            self.document = parse(self.data)
            return
        draw_foam(root, outcome.sheets)


if __name__ == "__main__":
    LayFoam().main()
