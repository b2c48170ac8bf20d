"""What laying tape puts on the drawing."""

from __future__ import annotations

from lxml import etree

from underlit.model.drawing import Drawing
from underlit.workflows.laying import laying_order
from underlit.workflows.route import Routed

from .laying import draw_signs, draw_strips, made_by, turn_parts
from .made import take_out
from .numbering import move_numbers
from .placing_power import move_words
from .write_drawing import draw_findings

ACTION = "route_tape"


def draw_routed(root: etree._Element, drawing: Drawing, outcome: Routed) -> None:
    """Put laid tape on the drawing; where nothing was laid, only the reasons."""
    if not outcome.laid:
        if outcome.sheet is not None:
            draw_findings(root, drawing, outcome.sheet, drawing.remembered)
        return
    gone = [e for e in made_by(root, "tape", ACTION) if e.attrib["id"] in outcome.removed]
    take_out(gone)
    draw_strips(root, laying_order(outcome.strips, outcome.patches), ACTION, outcome.below)
    turn_parts(root, outcome.turns)
    draw_signs(root, outcome.signs, ACTION)
    move_numbers(root, outcome.numbers)
    move_words(root, outcome.card)
    take_out(made_by(root, "findings", "validate"))
