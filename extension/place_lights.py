"""Put lights under the windows that are chosen."""

from __future__ import annotations

import launch

with launch.environment():
    from underlit.workflows.place_lights import Order, place
    from underlit_host.action import Action, yes_or_no
    from underlit_host.lighting import (
        draw_dark,
        draw_lights,
        referred,
        replaceable,
        turn_locked,
        windows_of,
    )
    from underlit_host.numbering import move_numbers


class PlaceLights(Action):
    """Place stick-on lights under openings."""

    def add_options(self, pars):
        """Which windows, which lights, how many, which way round."""
        pars.add_argument("--openings", default="", help="numbers of windows: 1,4,7-9")
        pars.add_argument("--at", action="append", default=[], help="place X,Y in a window, mm")
        pars.add_argument("--type", default="", help="light of the profile")
        pars.add_argument("--count", default="auto", help="lights per window, or auto")
        pars.add_argument("--turn", default="free", help="free, 45 or an angle in degrees")
        pars.add_argument("--replace", type=yes_or_no("--replace"), default=None)

    def work(self, drawing, profile):
        """Find places and turns."""
        options = self.options
        order = Order(
            ids=windows_of(self.svg, options.ids),
            numbers=options.openings,
            places=tuple(text for text in options.at if text.strip()),
            kind=options.type,
            count=options.count,
            turn=options.turn,
            replace=bool(options.replace),
            made=replaceable(self.svg),
            locked=turn_locked(self.svg),
            taken=referred(self.svg).union(self.svg.xpath("//@id")),
        )
        return place(drawing, profile, order)

    def draw(self, root, drawing, outcome):
        """Lights on their layer, and what cannot be lit on Findings."""
        draw_lights(root, outcome.drawn, outcome.removed)
        draw_dark(root, drawing, outcome)
        move_numbers(root, outcome.numbers)


if __name__ == "__main__":
    PlaceLights().main()
