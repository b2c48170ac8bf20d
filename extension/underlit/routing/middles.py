"""Centre lines of strips that the maker drew as areas: cut from a sheet, or along a curve."""

from __future__ import annotations

from collections import Counter
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_along
from .task import Pinned

#: Sides are looked at by places so far apart (mm), by fewer where these would be more than so many.
EVERY, PLACES = 1.0, 4000

#: Sides are taken this coarse, and lines are pulled straight within that (mm).
COARSE, PULLED = 0.05, 0.3

#: Places nearer than this are one (mm).
GRID = 1e-4

#: A straight strip fills so much of its narrowest box.
FULL = 0.9

#: Nothing nearer to a side than this (mm) is a middle: strips under 2 mm have none.
INNER = 1.0

#: What leads into a corner is so many times longer than its beginning is from a side.
SPUR = 1.5


def middle_lines(pin: Pinned) -> tuple[LineString, ...]:
    """Centre lines of a pinned strip: one, or one for each way between its branchings.

    Of one without any width it is all that there is, of one without any area it has no length.
    """
    return (pin.line,) if pin.line is not None else _middles(pin.area)


@lru_cache(maxsize=512)
def _middles(area: BaseGeometry) -> tuple[LineString, ...]:
    box = shapely.minimum_rotated_rectangle(area)
    if box.area and area.area < FULL * box.area:
        found = _branches(area)
        if found:
            return found
    return (_long_way(shapely.get_coordinates(box)[:4]),)


def _long_way(box: np.ndarray) -> LineString:
    """The middle of a box from end to end."""
    if len(box) < 4:
        return LineString(box[[0, -1]] if len(box) else [(0.0, 0.0), (0.0, 0.0)])
    if np.hypot(*(box[1] - box[0])) > np.hypot(*(box[2] - box[1])):
        box = np.roll(box, -1, axis=0)
    return LineString([(box[0] + box[1]) / 2.0, (box[2] + box[3]) / 2.0])


def _branches(area: BaseGeometry) -> tuple[LineString, ...]:
    """The medial axis of an area without what leads into its corners.

    From the Voronoi diagram of places along its sides, as is usual (Aurenhammer 1991).
    """
    area = shapely.simplify(area, COARSE)
    sides = area.boundary
    every = step_along(EVERY, sides.length, PLACES)
    places = shapely.get_coordinates(shapely.segmentize(sides, every))
    diagram = shapely.voronoi_polygons(shapely.multipoints(places), only_edges=True)
    pairs = [shapely.get_coordinates(part) for part in shapely.get_parts(diagram)]
    rows = np.concatenate([np.stack([p[:-1], p[1:]], axis=1) for p in pairs])
    shapely.prepare(area)
    lines = shapely.linestrings(rows)
    within = shapely.covers(area, lines)
    room = shapely.distance(sides, shapely.points(rows[within])).min(axis=1)
    lines = lines[within][room >= INNER]
    if not len(lines):
        return ()
    lines = _merged(lines)
    spurs = _spurs(lines, sides)
    while spurs.any() and not spurs.all():
        lines = _merged(lines[~spurs])
        spurs = _spurs(lines, sides)
    return tuple(shapely.simplify(lines, PULLED))


def _merged(lines: np.ndarray) -> np.ndarray:
    whole = shapely.union_all(lines, grid_size=GRID)
    return np.array(shapely.get_parts(shapely.line_merge(whole)))


def _spurs(lines: np.ndarray, sides: BaseGeometry) -> np.ndarray:
    """(n,) which lines end loose and are short beside the room at their other end."""
    ends = [tuple(np.array(line.coords)[k].tolist()) for line in lines for k in (0, -1)]
    met = Counter(ends)
    loose = np.array([met[end] == 1 for end in ends], dtype=bool).reshape(-1, 2).any(axis=1)
    room = shapely.distance(sides, shapely.points(np.array(ends))).reshape(-1, 2).max(axis=1)
    result: np.ndarray = loose & (shapely.length(lines) < SPUR * room)
    return result
