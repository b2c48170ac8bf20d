"""How thick a card becomes: its tallest part, the foam over it, the closed card, the post."""

from .closed import Closed, classes_for, closed
from .foams import Layers, cheapest
from .heights import Tall, height_of, needed_spacer, pressed_height, settled, tallest

__all__ = [
    "Closed",
    "Layers",
    "Tall",
    "cheapest",
    "classes_for",
    "closed",
    "height_of",
    "needed_spacer",
    "pressed_height",
    "settled",
    "tallest",
]
