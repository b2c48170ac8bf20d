"""Lay the tape: plus and minus from the battery to every light."""

from __future__ import annotations

import time

import launch

with launch.environment():
    from underlit.workflows.board import Wish
    from underlit.workflows.route import lay_tape
    from underlit_host.action import Action, yes_or_no
    from underlit_host.choices import number, one_of
    from underlit_host.routing import draw_routed


class RouteTape(Action):
    """Lay both polarities, keeping what the maker laid."""

    def add_options(self, pars):
        """How to lay."""
        pars.add_argument("--turn", default="free", type=one_of("--turn", "free", "45", "locked"))
        pars.add_argument("--style", default="free", type=one_of("--style", "free", "rails"))
        pars.add_argument("--fewer-strips", default=0.5, type=number("--fewer-strips", 0, 1))
        pars.add_argument("--effort", default=None, type=number("--effort", 1, 100, whole=True))
        pars.add_argument("--seconds", default=None, type=number("--seconds", 0.1, 3600))
        pars.add_argument("--seed", default=1, type=number("--seed", 0, 2**31, whole=True))
        pars.add_argument("--allow-patches", default=False, type=yes_or_no("--allow-patches"))
        pars.add_argument("--follow-sketch", default=True, type=yes_or_no("--follow-sketch"))
        pars.add_argument("--replace", default=None, type=yes_or_no("--replace"))

    def work(self, drawing, profile):
        """Route."""
        o = self.options
        wish = Wish(
            turn=o.turn,
            style=o.style,
            fewer_strips=o.fewer_strips,
            effort=o.effort,
            seconds=o.seconds,
            seed=o.seed,
            follow=o.follow_sketch is not False,
            patches=bool(o.allow_patches),
        )
        return lay_tape(drawing, profile, wish, bool(o.replace), time.monotonic)

    def draw(self, root, drawing, outcome):
        """Strips, signs, turned lights; or why there is no room."""
        draw_routed(root, drawing, outcome)
        self.over_glow = not outcome.laid


if __name__ == "__main__":
    RouteTape().main()
