"""How far each place of the panel is from foam.

A panel on foam a span apart has no place farther than half a span from foam; so that is what
is asked of every place, and the longest unsupported stretch is twice the farthest distance.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_along, step_over

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

#: Distance of the places that are looked at (mm), and most of them.
STEP = 1.0
MOST = 60_000


def places_of(panel: BaseGeometry) -> tuple[Floats, float]:
    """(n, 2) places all over an area and along its edges, and their distance (mm)."""
    step = step_over(max(STEP, math.sqrt(float(panel.area) / MOST)), panel.bounds)
    left, top, right, bottom = panel.bounds
    columns, rows = (math.ceil(side / step) + 1 for side in (right - left, bottom - top))
    xs = (left + right) / 2.0 + (np.arange(columns) - (columns - 1) / 2.0) * step
    ys = (top + bottom) / 2.0 + (np.arange(rows) - (rows - 1) / 2.0) * step
    x, y = (values.ravel() for values in np.meshgrid(xs, ys))
    shapely.prepare(panel)
    inside = shapely.contains_xy(panel, x, y)
    rim = shapely.segmentize(shapely.boundary(panel), step_along(step, panel.length, MOST))
    edge = shapely.get_coordinates(rim)
    return np.concatenate([np.column_stack([x[inside], y[inside]]), edge]), step


def to_boxes(points: Floats, boxes: Floats) -> Floats:
    """(n, k) distances of (n, 2) points from (k, 4) boxes."""
    low, high = boxes[None, :, :2], boxes[None, :, 2:]
    beside = np.maximum(np.maximum(low - points[:, None], points[:, None] - high), 0.0)
    return np.asarray(np.hypot(beside[..., 0], beside[..., 1]))


def to_area(points: Floats, area: BaseGeometry) -> Floats:
    """(n,) distances of points from an area; infinite from nothing."""
    if area.is_empty:
        return np.full(len(points), math.inf)
    shapely.prepare(area)
    return np.asarray(shapely.distance(shapely.points(points), area))


def farthest(
    panel: BaseGeometry, foam: Sequence[BaseGeometry]
) -> tuple[float, tuple[float, float]]:
    """The greatest distance of a place of the panel from foam, and where."""
    points, _ = places_of(panel)
    far = to_area(points, shapely.union_all(list(foam)))
    worst = int(far.argmax())
    return float(far[worst]), (float(points[worst, 0]), float(points[worst, 1]))
