"""How each part is drawn, in millimetres of its own: light, battery, switch, resistor, tab, patch.

A part's origin is its lens or the middle of its battery; from its minus foot to its plus foot is
the direction of +x. Sizes come from the profile. Plus feet are dark with a light sign, minus
feet light with a dark edge and sign; signs are shapes, never text.
"""

from __future__ import annotations

from .cells import bare_cell, flap_cell, flap_line, holder
from .drawing import Box, Disc, Line, Paint, PartDrawing, PartShape, Rings
from .lights import light
from .others import patch, pull_tab, resistor, rim_patch, switch

__all__ = [
    "Box",
    "Disc",
    "Line",
    "Paint",
    "PartDrawing",
    "PartShape",
    "Rings",
    "bare_cell",
    "flap_cell",
    "flap_line",
    "holder",
    "light",
    "patch",
    "pull_tab",
    "resistor",
    "rim_patch",
    "switch",
]
