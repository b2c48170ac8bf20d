"""Put in the battery and the spot to press, under a chosen shape."""

from __future__ import annotations

import launch

with launch.environment():
    from underlit.workflows.place_power import place_power
    from underlit.workflows.placing_power import NAMES
    from underlit.workflows.power_kinds import Order
    from underlit_host.action import Action, parse, yes_or_no
    from underlit_host.layers import Ids
    from underlit_host.numbering import move_numbers
    from underlit_host.placing_power import draw_power, is_pinned, made_battery, remove_power
    from underlit_host.spots import choose


class PlacePower(Action):
    """Place a coin battery, bare or in a holder."""

    def add_options(self, pars):
        """Which battery, how it closes, and where."""
        pars.add_argument("--at", default="", help="place X,Y on the page in mm")
        pars.add_argument("--type", default="", help="battery or holder of the profile")
        pars.add_argument("--closes", default="", help="press, slide, flap, tab, open or always")
        pars.add_argument("--up", default="plus", help="side that looks at the panel: plus, minus")
        pars.add_argument("--pull-tab", type=yes_or_no("--pull-tab"), default=None)
        pars.add_argument("--replace", type=yes_or_no("--replace"), default=None)

    def arrange(self):
        """The place first: what is replaced may be the place itself."""
        options = self.options
        old = made_battery(self.svg) if options.replace else None
        self.chosen = choose(self.svg, options.ids, options.at, old)
        if options.replace:
            remove_power(self.svg)
        ids = Ids(self.svg)
        self.names = {key: ids.free(name) for key, name in NAMES.items()}

    def work(self, drawing, profile):
        """Find its place."""
        options = self.options
        words = (options.type.strip(), options.closes.strip(), options.up.strip())
        order = Order(*words, options.pull_tab, bool(options.replace), is_pinned(self.svg))
        return place_power(drawing, profile, order, self.chosen, self.names)

    def draw(self, root, drawing, outcome):
        """Everything on its layer; nothing where it does not fit."""
        if outcome.untouched:
            self.document = parse(self.data)
            return
        draw_power(root, outcome.drawn, outcome.marks, self.names, outcome.paper_first)
        move_numbers(root, outcome.numbers)


if __name__ == "__main__":
    PlacePower().main()
