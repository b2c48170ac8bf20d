"""Units and the two tolerances of the whole tool.

Sources: CSS Values and Units (1 in = 25.4 mm = 96 px = 72 pt = 6 pc).
"""

from __future__ import annotations

MM_PER_INCH = 25.4
MM_PER_PX = MM_PER_INCH / 96.0

#: Curves are followed within this distance (mm).
FLATNESS = 0.005

#: What is nearer than this touches, and a limit is met within it (mm).
TOLERANCE = 0.01

#: Lengths of one SVG length unit in mm (absolute units only).
MM_PER_UNIT = {
    "": MM_PER_PX,
    "px": MM_PER_PX,
    "in": MM_PER_INCH,
    "mm": 1.0,
    "cm": 10.0,
    "q": 0.25,
    "pt": MM_PER_INCH / 72.0,
    "pc": MM_PER_INCH / 6.0,
}

#: Resistors that shops have (E12 of IEC 60063): these times powers of ten, in ohms.
E12 = (10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82)


def next_resistor(ohm: float) -> float:
    """The smallest resistor of the E12 series that is at least so many ohms (1 to 10 M)."""
    sizes = (step * 10.0**power / 10.0 for power in range(8) for step in E12)
    return next((size for size in sizes if size >= ohm * (1.0 - 1e-9)), 1e8)
