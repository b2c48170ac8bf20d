"""Find the fault: lights that stay dark, flicker or never go out, and where to look."""

from __future__ import annotations

import launch

with launch.environment():
    from underlit.tracing import Symptoms
    from underlit.workflows.find_fault import find_fault
    from underlit_host.action import Action, yes_or_no
    from underlit_host.symptoms import chosen_lights
    from underlit_host.write_drawing import draw_findings


class FindFault(Action):
    """Mark the likeliest places of a fault on a card that is made."""

    over_glow = True

    def add_options(self, pars):
        """What the maker sees; the selected lights are those of `--see`."""
        pars.add_argument("--dark", action="append", default=[], help="id of a light: stays dark")
        pars.add_argument("--flicker", action="append", default=[], help="id of a light: flickers")
        pars.add_argument("--always", action="append", default=[], help="id: shines unpressed")
        pars.add_argument("--see", default="dark", help="of the selected: dark, flicker, always")
        pars.add_argument("--warm", type=yes_or_no("--warm"), default=None, help="warm battery")

    def work(self, drawing, profile):
        """Look for what these lights have in common."""
        seen = chosen_lights(self.svg, drawing, self.options)
        return find_fault(drawing, profile, Symptoms(*seen, warm=bool(self.options.warm)))

    def draw(self, root, drawing, outcome):
        """Replace the Findings layer."""
        draw_findings(root, drawing, outcome.sheet, drawing.remembered)


if __name__ == "__main__":
    FindFault().main()
