"""Validate my card: check the circuit and show each fault where it is."""

from __future__ import annotations

import launch

with launch.environment():
    from underlit.workflows.validate import validate
    from underlit_host.action import Action
    from underlit_host.write_drawing import draw_findings


class ValidateCard(Action):
    """Check a card and mark each fault on the drawing."""

    over_glow = True

    def work(self, drawing, profile):
        """Judge the card."""
        return validate(drawing, profile)

    def draw(self, root, drawing, outcome):
        """Replace the Findings layer."""
        draw_findings(root, drawing, outcome.sheet, outcome.remember)


if __name__ == "__main__":
    ValidateCard().main()
