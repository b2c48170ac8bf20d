"""The visual centre of what stays open: the place farthest from its edge.

Found by GEOS (`shapely.maximum_inscribed_circle`: cells are split until none can hold a better
place). Where several places are as good (a slot, a ring, an hourglass) the one nearest to the
centre of gravity is taken, so that a light stands in the middle of a slot.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..records import record

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

#: The search stops when no place can be better by more than this (mm).
SEARCH = 0.003

#: Places whose clearance is no more than this below the best are as good (mm).
AS_GOOD = 0.025

#: What drawing an area in may be off by (mm), so that a place found that way still counts.
SLACK = 0.005

#: Corners per quarter circle where areas are drawn in: off by 0.002 mm at 20 mm.
QUARTER = 64

#: An area with more corners is not drawn in to find a place that is more in the middle.
MANY = 20_000


@record
class Pole:
    """The visual centre, its distance from the edge, and the largest that there is (mm)."""

    at: tuple[float, float]
    clearance: float
    radius: float


def visual_centre(area: BaseGeometry, keep: float = 0.0) -> Pole | None:
    """The visual centre of an area (one or several polygons, holes count); None without area.

    Being in the middle costs at most `AS_GOOD` of clearance, and none that `keep` (mm) needs.
    """
    parts = [p for p in shapely.get_parts(area) if p.geom_type == "Polygon" and p.area > 0.0]
    best: Pole | None = None
    for part in parts:
        if best is not None and _cannot_beat(part, best.radius):
            continue
        line = shapely.maximum_inscribed_circle(part, tolerance=SEARCH)
        x, y = shapely.get_coordinates(line)[0].tolist()
        radius = clearance(part, (x, y))
        if best is None or radius > best.radius + SEARCH:
            best = Pole((x, y), radius, radius)
    return None if best is None else _in_the_middle(area, best, keep)


def _cannot_beat(part: BaseGeometry, radius: float) -> bool:
    """Whether no circle of more than `radius` can lie in a polygon: half its narrower side."""
    left, top, right, bottom = part.bounds
    return bool(min(right - left, bottom - top) / 2.0 <= radius)


def _in_the_middle(area: BaseGeometry, pole: Pole, keep: float) -> Pole:
    give = AS_GOOD if pole.radius < keep else min(AS_GOOD, pole.radius - keep)
    if shapely.get_num_coordinates(area) > MANY or not SEARCH < give < pole.radius:
        return pole
    as_good = area.buffer(give - pole.radius, quad_segs=QUARTER)
    if as_good.is_empty:
        return pole
    spot = shapely.get_coordinates(shapely.shortest_line(as_good, area.centroid))[0]
    x, y = spot.tolist()
    free = clearance(area, (x, y))
    return Pole((x, y), free, pole.radius) if free >= pole.radius - give - SLACK else pole


def clearance(area: BaseGeometry, at: tuple[float, float]) -> float:
    """Distance of a place from the edge of an area (mm), 0 outside it."""
    return float(clearances(area, np.array([at]))[0])


def clearances(area: BaseGeometry, places: Floats) -> Floats:
    """(k,) distances of (k, 2) places from the edge of an area (mm), 0 outside it."""
    points = shapely.points(places)
    shapely.prepare(area)
    inside = shapely.intersects(area, points)
    away = shapely.distance(shapely.boundary(area), points)
    return np.where(inside, away, 0.0)
