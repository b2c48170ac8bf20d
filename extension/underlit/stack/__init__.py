"""How thick a card becomes: its tallest part, the foam over it, the closed card, the post."""

from .closed import Closed, classes_for, closed
from .foams import Layers, cheapest, thinnest
from .heights import Tall, bare_height, height_of, needed_spacer, pressed_height, settled, tallest
from .planned import SHIPPED_SPACER, USUAL_CELL, Planned, panel_height, planned
from .thinner import Thinner, thinner

__all__ = [
    "SHIPPED_SPACER",
    "USUAL_CELL",
    "Closed",
    "Layers",
    "Planned",
    "Tall",
    "Thinner",
    "bare_height",
    "cheapest",
    "classes_for",
    "closed",
    "height_of",
    "needed_spacer",
    "panel_height",
    "planned",
    "pressed_height",
    "settled",
    "tallest",
    "thinner",
    "thinnest",
]
