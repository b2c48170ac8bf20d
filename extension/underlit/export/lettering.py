"""Names on packed pieces, as single strokes for a pen: P, M, T, figures and a dash.

Closed outlines like everything else: each stroke is drawn there and back.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon

from .cut import Outline, Piece

#: Strokes of each letter on a grid of 2 x 4, y downwards.
STROKES: dict[str, tuple[tuple[tuple[float, float], ...], ...]] = {
    "P": (((0, 4), (0, 0), (2, 0), (2, 2), (0, 2)),),
    "M": (((0, 4), (0, 0), (1, 2), (2, 0), (2, 4)),),
    "T": (((0, 0), (2, 0)), ((1, 0), (1, 4))),
    "-": (((0.3, 2), (1.7, 2)),),
    "0": (((0, 0), (2, 0), (2, 4), (0, 4), (0, 0)),),
    "1": (((0.4, 0.8), (1.2, 0), (1.2, 4)),),
    "2": (((0, 0), (2, 0), (2, 2), (0, 2), (0, 4), (2, 4)),),
    "3": (((0, 0), (2, 0), (2, 4), (0, 4)), ((0.4, 2), (2, 2))),
    "4": (((0, 0), (0, 2), (2, 2)), ((2, 0), (2, 4))),
    "5": (((2, 0), (0, 0), (0, 2), (2, 2), (2, 4), (0, 4)),),
    "6": (((2, 0), (0, 0), (0, 4), (2, 4), (2, 2), (0, 2)),),
    "7": (((0, 0), (2, 0), (0.8, 4)),),
    "8": (((0, 0), (2, 0), (2, 4), (0, 4), (0, 0)), ((0, 2), (2, 2))),
    "9": (((0, 4), (2, 4), (2, 0), (0, 0), (0, 2), (2, 2)),),
}

#: Letter to letter, on that grid; height of a letter there.
ADVANCE, TALL = 3.0, 4.0

#: Height of letters: at most so much (mm), and this share of the strip's width and edge.
LARGEST, SHARE = 3.0, 0.55


def names_on(pieces: Sequence[Piece]) -> list[Outline]:
    """The label of every piece along its longest edge, in the middle of its width."""
    return [outline for piece in pieces for outline in _name(piece)]


def _name(piece: Piece) -> list[Outline]:
    middle, along, width, edge = _seat(piece.area)
    length = ADVANCE * len(piece.label) - 1.0
    scale = min(LARGEST / TALL, SHARE * width / TALL, SHARE * edge / length)
    across = np.array([-along[1], along[0]])
    found = []
    for n, letter in enumerate(piece.label):
        for stroke in STROKES.get(letter, ()):
            flat = np.array(stroke) + np.array([n * ADVANCE - length / 2.0, -TALL / 2.0])
            points = middle + scale * (flat[:, :1] * along + flat[:, 1:] * across)
            there_and_back = np.concatenate([points, points[-2:0:-1]])
            found.append(Outline(f"name-{piece.label}", (there_and_back,)))
    return found


def _seat(area: Polygon) -> tuple[np.ndarray, np.ndarray, float, float]:
    """Where a name goes: its middle, the way it reads, and the width and length that it has."""
    ring = shapely.get_coordinates(area.exterior)
    edges = np.diff(ring, axis=0)
    k = int(np.argmax(np.hypot(*edges.T)))
    edge = float(np.hypot(*edges[k]))
    along = edges[k] / edge
    start = (ring[k] + ring[k + 1]) / 2.0
    inward = np.array([-along[1], along[0]]) * (1.0 if area.exterior.is_ccw else -1.0)
    ray = shapely.linestrings(np.array([start + 1e-6 * inward, start + 1e3 * inward]))
    inside = shapely.get_parts(shapely.intersection(ray, area))
    first = min(inside, key=lambda part: float(part.distance(shapely.Point(start))))
    width = float(first.length)
    if along[0] < -1e-9 or (abs(along[0]) <= 1e-9 and along[1] > 0.0):
        along = -along  # read from left to right, or upwards
    return start + inward * width / 2.0, along, width, edge
