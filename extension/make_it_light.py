"""Make it light: from an outline (or an empty page) to a glowing card, without a question."""

from __future__ import annotations

import time

import launch

with launch.environment():
    from underlit_host.action import Action, parse
    from underlit_host.whole_way import WholeWay


class MakeItLight(Action):
    """Prepare, place lights and battery, lay tape, validate, show the glow."""

    over_glow = True

    def work(self, drawing, profile):
        """Walk the whole way on this drawing."""
        way = WholeWay(self.svg, drawing.name, profile, time.monotonic)
        outcome = way.go(self.options.ids)
        if way.root is not self.svg:
            self.document = way.root.getroottree()
            self.svg = way.root
        return outcome

    def draw(self, root, drawing, outcome):
        """It is all drawn already; nothing where the way could not begin."""
        if outcome.untouched:
            self.document = parse(self.data)


if __name__ == "__main__":
    MakeItLight().main()
