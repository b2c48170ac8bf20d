"""NOT READY across a page: drawn letters, so that they are no words of the text layer.

A language whose words have letters that are not drawn here gets the English stamp.
"""

from __future__ import annotations

from math import atan2, hypot

import shapely
from shapely import affinity

from ..language import later, say
from . import look
from .content import Area, Item, Point
from .drawing import Fit, rings

#: Strokes of each letter on a grid of 4 x 6.
_LETTERS: dict[str, tuple[tuple[Point, ...], ...]] = {
    "N": (((0, 6), (0, 0), (4, 6), (4, 0)),),
    "O": (((1, 0), (3, 0), (4, 1), (4, 5), (3, 6), (1, 6), (0, 5), (0, 1), (1, 0)),),
    "T": (((0, 0), (4, 0)), ((2, 0), (2, 6))),
    "R": (((0, 6), (0, 0), (3, 0), (4, 1), (4, 2), (3, 3), (0, 3)), ((2, 3), (4, 6))),
    "E": (((4, 0), (0, 0), (0, 6), (4, 6)), ((0, 3), (3, 3))),
    "A": (((0, 6), (2, 0), (4, 6)), ((0.8, 4), (3.2, 4))),
    "D": (((0, 0), (2.5, 0), (4, 1.5), (4, 4.5), (2.5, 6), (0, 6), (0, 0)),),
    "Y": (((0, 0), (2, 3), (4, 0)), ((2, 3), (2, 6))),
    "C": (((4, 1), (3, 0), (1, 0), (0, 1), (0, 5), (1, 6), (3, 6), (4, 5)),),
    "F": (((4, 0), (0, 0), (0, 6)), ((0, 3), (3, 3))),
    "G": (((4, 1), (3, 0), (1, 0), (0, 1), (0, 5), (1, 6), (3, 6), (4, 5), (4, 3), (2.5, 3)),),
    "H": (((0, 0), (0, 6)), ((4, 0), (4, 6)), ((0, 3), (4, 3))),
    "I": (((2, 0), (2, 6)),),
}

#: What is stamped, to be said.
TEXT = later("NOT READY")

#: Letters stand this far apart on the grid.
PITCH = 5.6

#: How strongly the letters are painted: everything must be readable through them.
OPACITY = 0.16


def stamped() -> str:
    """The words of the stamp."""
    said = say(TEXT)
    return said if set(said) <= {*_LETTERS, " "} else TEXT


def stamp(width: float, height: float) -> list[Item]:
    """The words from corner to corner of a page, painted over everything: all shows through."""
    text = stamped()
    long = PITCH * len(text) - (PITCH - 4.0)
    scale = 0.74 * hypot(height, width) / long
    strokes = [
        shapely.LineString([(x + n * PITCH - long / 2.0, y - 3.0) for x, y in stroke])
        for n, letter in enumerate(text)
        for stroke in _LETTERS.get(letter, ())
    ]
    pens = shapely.buffer(strokes, 0.375, cap_style="flat", join_style="mitre")
    letters = affinity.rotate(shapely.union_all(pens), -atan2(height, width), (0, 0), True)
    fit = Fit(scale, width / 2.0, height / 2.0)
    return [Area(rings(letters, fit), look.ALARM, opacity=OPACITY)]
