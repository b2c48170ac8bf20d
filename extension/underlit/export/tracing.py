"""In which order and from where each outline is cut: inner before outer, short ways between."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon

from .cut import Cut, Outline, Piece, ring_length

#: A ring begins on an edge of at least this length where it has one (mm).
STRAIGHT = 1.0

#: After so many rings those that are done are no longer looked at.
TIDY = 64


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
        outer = corners_of(shapely.get_exterior_ring([pieces[i].area for i in group]))
        for k, first in _tour(outer, at):
            piece = pieces[group[k]]
            rings, way, at = _rings(piece.area, _from(outer[k], first), at)
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
    if not pieces:
        return []
    areas = shapely.polygons(shapely.get_exterior_ring([piece.area for piece in pieces]))
    inner, outer = shapely.STRtree(areas).query(areas)
    box = shapely.bounds(areas)
    within = (box[inner, :2] >= box[outer, :2]).all(1) & (box[inner, 2:] <= box[outer, 2:]).all(1)
    maybe = within & (inner != outer)
    inner, outer = inner[maybe], outer[maybe]
    shapely.prepare(areas[np.unique(outer)])
    depth = np.bincount(inner[shapely.covers(areas[outer], areas[inner])], minlength=len(areas))
    return [np.flatnonzero(depth == d).tolist() for d in sorted(set(depth.tolist()), reverse=True)]


def corners_of(rings: np.ndarray) -> list[np.ndarray]:
    """The (n, 2) corners of closed rings, the first not repeated."""
    points, owner = shapely.get_coordinates(rings, return_index=True)
    ends = np.cumsum(np.bincount(owner, minlength=len(rings))).tolist()
    return [points[start : end - 1] for start, end in zip([0, *ends[:-1]], ends, strict=True)]


def _tour(rings: Sequence[np.ndarray], at: np.ndarray) -> list[tuple[int, int]]:
    """Every ring once, always the nearest next, with the number of the corner to begin at."""
    x, y, owner, corner = _starts(rings)
    here_x, here_y = at.tolist()
    found = []
    for _ in rings:
        along, across = x - here_x, y - here_y
        best = int(np.argmin(along * along + across * across))
        here_x, here_y, ring = float(x[best]), float(y[best]), int(owner[best])
        found.append((ring, int(corner[best])))
        x[owner == ring] = np.inf
        if len(found) % TIDY == 0:
            left = np.isfinite(x)
            x, y, owner, corner = x[left], y[left], owner[left], corner[left]
    return found


def _starts(
    rings: Sequence[np.ndarray],
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """x, y, ring and number of corners that a straight edge leaves; of a ring whose edges are
    all short the corner before the longest."""
    sizes = [len(ring) for ring in rings]
    points = np.concatenate(rings)
    owner = np.repeat(np.arange(len(rings)), sizes)
    first = np.cumsum([0, *sizes[:-1]])
    following = np.arange(1, len(points) + 1)
    following[first + np.array(sizes) - 1] = first
    edges = np.hypot(*(points[following] - points).T)
    good = edges >= STRAIGHT
    for k in np.flatnonzero(np.maximum.reduceat(edges, first) < STRAIGHT).tolist():
        good[first[k] + int(np.argmax(edges[first[k] : first[k] + sizes[k]]))] = True
    corner = np.arange(len(points)) - first[owner]
    x, y = points[good].T.copy()
    return x, y, owner[good], corner[good]


def _rings(
    area: Polygon, outer: np.ndarray, at: np.ndarray
) -> tuple[list[np.ndarray], float, np.ndarray]:
    """Rings of one area, holes first; the way between them; where the knife ends."""
    rings, travel = [], 0.0
    holes = corners_of(np.array(area.interiors, dtype=object)) if len(area.interiors) else []
    for k, first in _tour(holes, at) if holes else ():
        rings.append(_from(holes[k], first))
    rings.append(outer)
    for ring in rings:
        travel += float(np.hypot(*(ring[0] - at)))
        at = ring[0]
    return rings, travel, outer[0]


def _from(ring: np.ndarray, first: int) -> np.ndarray:
    """The ring beginning at one of its corners."""
    return np.concatenate([ring[first:], ring[:first]]) if first else ring


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
