"""Which outlines lie inside, across or along which: exact, and never every pair.

Glossary. A *contains* B: B lies in A, edges may touch. A and B *cross*: each has something
of the other and something of its own, thicker than the tolerance. They *share an edge* where
they run within the tolerance of each other over more than `STRETCH`.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..records import record
from ..units import TOLERANCE

#: Outlines that run together over more than this share an edge; less is a touch (mm).
STRETCH = 1.0

#: Areas with more points than this are looked at only near the other one.
LARGE = 200


@record
class Relations:
    """Relations between n simple polygons, by index.

    contains: (k, 2) pairs outer, inner. crosses: neighbours by index, both ways.
    beside: pairs outside each other that share an edge, both ways. rims: (outer, inner)
    where the inner one shares an edge with the outer one.
    """

    contains: np.ndarray
    crosses: dict[int, set[int]]
    beside: dict[int, set[int]]
    rims: frozenset[tuple[int, int]]


def relate(areas: np.ndarray) -> Relations:
    """Relations between (n,) polygons without holes; work nearly linear in their points."""
    if len(areas) < 2 or not _any_boxes_meet(areas):
        return Relations(np.empty((0, 2), dtype=int), {}, {}, frozenset())
    near = near_pairs(areas)
    outer, inner = _containing(areas)
    known = {(int(i), int(j)) for i, j in near}
    apart = [
        (min(p), max(p)) not in known for p in zip(outer.tolist(), inner.tolist(), strict=True)
    ]
    contains = [*zip(outer[apart].tolist(), inner[apart].tolist(), strict=True)]
    crosses: dict[int, set[int]] = {}
    beside: dict[int, set[int]] = {}
    rims: set[tuple[int, int]] = set()
    for i, j in near.tolist():
        kind, along = _relation(areas[i], areas[j])
        if kind == "cross":
            _link(crosses, i, j)
        elif kind == "outside":
            if along:
                _link(beside, i, j)
        else:
            pair = (i, j) if kind == "contains" else (j, i)
            contains.append(pair)
            if along:
                rims.add(pair)
    pairs = np.array(sorted(contains), dtype=int).reshape(-1, 2)
    return Relations(pairs, crosses, beside, frozenset(rims))


def _any_boxes_meet(areas: np.ndarray) -> bool:
    """Whether any two areas can have to do with each other at all."""
    boxes = shapely.bounds(areas) + TOLERANCE * np.array([-1.0, -1.0, 1.0, 1.0])
    hits = shapely.STRtree(areas).query(shapely.box(*boxes.T))
    return bool(hits.shape[1] > len(areas))


def near_pairs(areas: np.ndarray) -> np.ndarray:
    """(k, 2) pairs i < j whose outlines come within the tolerance of each other."""
    points, owner = shapely.get_coordinates(areas, return_index=True)
    within = owner[1:] == owner[:-1]
    starts, ends, ring = points[:-1][within], points[1:][within], owner[1:][within]
    low, high = np.minimum(starts, ends), np.maximum(starts, ends)
    tree = shapely.STRtree(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    low, high = low - TOLERANCE, high + TOLERANCE
    a, b = tree.query(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    different = ring[a] < ring[b]
    a, b = a[different], b[different]
    lines = shapely.linestrings(np.stack([starts, ends], axis=1))
    close = shapely.dwithin(lines[a], lines[b], TOLERANCE)
    pairs = set(zip(ring[a[close]].tolist(), ring[b[close]].tolist(), strict=True))
    return np.array(sorted(pairs), dtype=int).reshape(-1, 2)


def _containing(areas: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Pairs (outer, inner): the first point of the inner one lies inside the outer one."""
    points, owner = shapely.get_coordinates(areas, return_index=True)
    first = points[np.flatnonzero(np.diff(owner, prepend=-1))]
    outer, inner = shapely.STRtree(shapely.points(first)).query(areas, predicate="contains")
    return outer, inner


def _relation(a: BaseGeometry, b: BaseGeometry) -> tuple[str, bool]:
    """cross | outside | contains | within of two areas that touch, and if along an edge."""
    boxes = np.array([a.bounds, b.bounds])
    low = boxes[:, :2].max(axis=0) - 2.0 * STRETCH
    high = boxes[:, 2:].min(axis=0) + 2.0 * STRETCH
    beyond = (boxes[:, :2] < low).any(axis=1) | (boxes[:, 2:] > high).any(axis=1)
    a, b = _local(a, low, high), _local(b, low, high)
    if not _thick(a.intersection(b)):
        return "outside", _runs_along(a, b)
    more_a = bool(beyond[0]) or _thick(a.difference(b))
    more_b = bool(beyond[1]) or _thick(b.difference(a))
    if more_a and more_b:
        return "cross", False
    return ("within" if more_b else "contains"), _runs_along(a, b)


def _local(area: BaseGeometry, low: np.ndarray, high: np.ndarray) -> BaseGeometry:
    """A large area cut down to a window."""
    if shapely.get_num_coordinates(area) < LARGE:
        return area
    part = shapely.clip_by_rect(area, *low, *high)
    plain = part.geom_type in {"Polygon", "MultiPolygon"}
    return part if plain and part.is_valid else area


def _thick(area: BaseGeometry) -> bool:
    """Whether an area is anywhere thicker than the tolerance."""
    return not area.buffer(-TOLERANCE / 2.0).is_empty


def _runs_along(a: BaseGeometry, b: BaseGeometry) -> bool:
    together = a.boundary.intersection(b.boundary.buffer(TOLERANCE))
    return bool(together.length > STRETCH)


def _link(neighbours: dict[int, set[int]], i: int, j: int) -> None:
    neighbours.setdefault(i, set()).add(j)
    neighbours.setdefault(j, set()).add(i)
