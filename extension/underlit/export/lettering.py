"""Names on packed pieces, as single strokes for a pen: P, M, T, figures and a dash.

Closed outlines like everything else: each stroke is drawn there and back.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely

from .cut import Outline, Piece
from .tracing import corners_of

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


#: Where a name goes: its middle, the way it reads, and the width and length that it has.
Seat = tuple[np.ndarray, np.ndarray, float, float]


def names_on(pieces: Sequence[Piece]) -> list[Outline]:
    """The label of every piece along its longest edge, in the middle of its width."""
    if not pieces:
        return []
    forth_and_back = {letter: [_back(stroke) for stroke in STROKES[letter]] for letter in STROKES}
    seats = _seats(np.array([piece.area for piece in pieces], dtype=object))
    return [
        Outline(f"name-{piece.label}", stroke)
        for piece, seat in zip(pieces, seats, strict=True)
        for stroke in _name(piece.label, seat, forth_and_back)
    ]


def _back(stroke: Sequence[tuple[float, float]]) -> np.ndarray:
    """A stroke there and back as one closed ring."""
    return np.array([*stroke, *stroke[-2:0:-1]], dtype=float)


def _name(
    label: str, seat: Seat, letters: Mapping[str, Sequence[np.ndarray]]
) -> list[tuple[np.ndarray]]:
    """Strokes of a label on its seat."""
    middle, along, width, edge = seat
    length = ADVANCE * len(label) - 1.0
    scale = min(LARGEST / TALL, SHARE * width / TALL, SHARE * edge / length)
    across = np.array([-along[1], along[0]])
    flat = [
        stroke + np.array([n * ADVANCE - length / 2.0, -TALL / 2.0])
        for n, letter in enumerate(label)
        for stroke in letters.get(letter, ())
    ]
    if not flat:
        return []
    grid = np.concatenate(flat)
    points = middle + scale * (grid[:, :1] * along + grid[:, 1:] * across)
    ends = np.cumsum([len(stroke) for stroke in flat]).tolist()
    return [(points[start:end],) for start, end in zip([0, *ends[:-1]], ends, strict=True)]


def _seats(areas: np.ndarray) -> list[Seat]:
    """Where the name of each piece goes."""
    outer = shapely.get_exterior_ring(areas)
    starts, ways, lengths, rays = [], [], [], []
    for ring, inward in zip(corners_of(outer), shapely.is_ccw(outer).tolist(), strict=True):
        edges = np.diff(ring, axis=0, append=ring[:1])
        k = int(np.argmax(np.hypot(*edges.T)))
        edge = float(np.hypot(*edges[k]))
        along = edges[k] / edge
        start = (ring[k] + ring[(k + 1) % len(ring)]) / 2.0
        into = np.array([-along[1], along[0]]) * (1.0 if inward else -1.0)
        starts.append(start)
        ways.append((along, into))
        lengths.append(edge)
        rays.append((start + 1e-6 * into, start + 1e3 * into))
    inside, owner = shapely.get_parts(
        shapely.intersection(shapely.linestrings(rays), areas), return_index=True
    )
    away = shapely.distance(inside, shapely.points(np.array(starts)[owner]))
    first = np.lexsort((away, owner))[np.searchsorted(owner, np.arange(len(areas)))]
    widths = shapely.length(inside[first]).tolist()
    return [
        (start + into * width / 2.0, _readable(along), width, edge)
        for start, (along, into), width, edge in zip(starts, ways, widths, lengths, strict=True)
    ]


def _readable(along: np.ndarray) -> np.ndarray:
    """From left to right, or upwards."""
    if along[0] < -1e-9 or (abs(along[0]) <= 1e-9 and along[1] > 0.0):
        return -along
    return along
