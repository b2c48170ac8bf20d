"""In which order and from where each outline is cut: inner before outer, short ways between."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon

from .cut import Cut, Outline, Piece, ring_length

#: A ring begins on an edge of at least this length where it has one (mm).
STRAIGHT = 1.0


def trace(
    material: str,
    number: int,
    size: tuple[float, float],
    pieces: Sequence[Piece],
    overcut: float = 0.0,
    mirrored: bool = False,
) -> Cut:
    """The cut of pieces that lie where they shall lie on their sheet."""
    outlines: list[Outline] = []
    ordered: list[Piece] = []
    at, travel = np.zeros(2), 0.0
    for group in _inside_out(pieces):
        for k, start in _tour([pieces[i].area for i in group], at):
            piece = pieces[group[k]]
            rings, way, at = _rings(piece.area, start, at)
            travel += way
            outlines.append(Outline(piece.label, tuple(run_on(ring, overcut) for ring in rings)))
            ordered.append(piece)
    return Cut(
        material,
        number,
        size,
        tuple(outlines),
        tuple(ordered),
        mirrored=mirrored,
        travel=travel,
        offered=bool(pieces) and all(piece.offered for piece in pieces),
    )


def _inside_out(pieces: Sequence[Piece]) -> list[list[int]]:
    """Numbers of pieces by how many others they lie inside of, the innermost first."""
    areas = np.array([Polygon(piece.area.exterior) for piece in pieces], dtype=object)
    depth = np.zeros(len(areas), dtype=int)
    if len(areas):
        inner, outer = shapely.STRtree(areas).query(areas, predicate="covered_by")
        np.add.at(depth, inner[inner != outer], 1)
    return [np.flatnonzero(depth == d).tolist() for d in sorted(set(depth.tolist()), reverse=True)]


def _tour(areas: Sequence[Polygon], at: np.ndarray) -> list[tuple[int, np.ndarray]]:
    """Every area once, always the nearest next, with the corner to begin at."""
    starts = [_starts(_corners(area.exterior)) for area in areas]
    points = np.concatenate(starts)
    owner = np.repeat(np.arange(len(areas)), [len(s) for s in starts])
    free = np.ones(len(points), dtype=bool)
    found = []
    for _ in areas:
        away = ((points - at) ** 2).sum(axis=1)
        away[~free] = np.inf
        best = int(np.argmin(away))
        at = points[best]
        found.append((int(owner[best]), at))
        free &= owner != owner[best]
    return found


def _corners(ring: shapely.LinearRing) -> np.ndarray:
    return np.asarray(shapely.get_coordinates(ring)[:-1])


def _starts(ring: np.ndarray) -> np.ndarray:
    """Corners that a straight edge leaves; that of the longest edge where all are short."""
    edges = np.hypot(*(np.roll(ring, -1, axis=0) - ring).T)
    long = edges >= STRAIGHT
    return ring[long] if long.any() else ring[[int(np.argmax(edges))]]


def _rings(
    area: Polygon, start: np.ndarray, at: np.ndarray
) -> tuple[list[np.ndarray], float, np.ndarray]:
    """Rings of one area, holes first; the way between them; where the knife ends."""
    holes = [Polygon(ring) for ring in area.interiors]
    rings, travel = [], 0.0
    for k, first in _tour(holes, at) if holes else ():
        ring = _from(_corners(holes[k].exterior), first)
        travel += float(np.hypot(*(ring[0] - at)))
        rings.append(ring)
        at = ring[0]
    outer = _from(_corners(area.exterior), start)
    travel += float(np.hypot(*(outer[0] - at)))
    return [*rings, outer], travel, outer[0]


def _from(ring: np.ndarray, start: np.ndarray) -> np.ndarray:
    """The ring beginning at one of its corners."""
    return np.roll(ring, -int(np.argmin(((ring - start) ** 2).sum(axis=1))), axis=0)


def run_on(ring: np.ndarray, overcut: float) -> np.ndarray:
    """The ring with its beginning repeated over `overcut` mm (0: as it is).

    The path stays closed: from the end of the overcut it closes along what is cut already.
    """
    if overcut <= 0.0 or ring_length(ring) <= 2.0 * overcut:
        return ring
    closed = np.concatenate([ring, ring[:1]])
    done = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))])
    whole = int(np.searchsorted(done, overcut, side="right"))
    last = closed[whole - 1] + (closed[whole] - closed[whole - 1]) * (
        (overcut - done[whole - 1]) / (done[whole] - done[whole - 1])
    )
    return np.concatenate([ring, closed[:whole], [last], closed[whole - 1 : 0 : -1]])
