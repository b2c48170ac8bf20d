"""How thick a card becomes: its tallest part, the foam over it, the closed card, the post."""

from .closed import Closed, classes_for, closed
from .foams import Layers, cheapest, thinnest
from .heights import Tall, height_of, needed_spacer, pressed_height, settled, tallest
from .planned import SHIPPED_SPACER, Planned, planned
from .thinner import Thinner, thinner

__all__ = [
    "SHIPPED_SPACER",
    "Closed",
    "Layers",
    "Planned",
    "Tall",
    "Thinner",
    "cheapest",
    "classes_for",
    "closed",
    "height_of",
    "needed_spacer",
    "planned",
    "pressed_height",
    "settled",
    "tallest",
    "thinner",
    "thinnest",
]
