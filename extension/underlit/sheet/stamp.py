"""NOT READY across a page: drawn letters, so that they cover no printed word of the text layer."""

from __future__ import annotations

from math import atan2, cos, sin

from . import look
from .content import Item, Line, Point

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
}

TEXT = "NOT READY"

#: Letters stand this far apart on the grid.
PITCH = 5.6


def stamp(width: float, height: float) -> list[Item]:
    """The words from corner to corner of a page, pale, to be painted under everything else."""
    long = PITCH * len(TEXT) - (PITCH - 4.0)
    angle = -atan2(height, width)
    diagonal = (width**2 + height**2) ** 0.5
    scale = 0.74 * diagonal / long
    items: list[Item] = []
    for n, letter in enumerate(TEXT):
        for stroke in _LETTERS.get(letter, ()):
            points = []
            for x, y in stroke:
                dx, dy = (x + n * PITCH - long / 2.0) * scale, (y - 3.0) * scale
                points.append((
                    width / 2.0 + dx * cos(angle) - dy * sin(angle),
                    height / 2.0 + dx * sin(angle) + dy * cos(angle),
                ))  # fmt: skip
            items.append(Line(tuple(points), 0.75 * scale, look.STAMP))
    return items
