"""Move lights off a grid of places, so that the darkest point of an opening gets brighter.

All together up the slope of a power mean that leans on the dark points; then one by one.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from .brightness import Illuminance

    Floats = NDArray[np.float64]

#: Step of a slope (mm).
SLOPE = 0.01

#: Moves off the grid: from this share of its step down to this length (mm).
FIRST_SHIFT = 0.75
LAST_SHIFT = 0.03

#: A move that brightens by less than this share is none: steps get shorter instead.
GAIN = 3e-5

_AROUND = np.array([[1, 0], [-1, 0], [0, 1], [0, -1], [1, 1], [1, -1], [-1, 1], [-1, -1]]) * 1.0


def value_of(total: Floats, sharp: float) -> Floats:
    """Power mean along the first axis; the darkest point for an infinite exponent."""
    darkest = total.min(axis=0)
    if math.isinf(sharp):
        return np.asarray(darkest)
    mean = ((total / darkest) ** -sharp).mean(axis=0)
    return np.asarray(darkest * mean ** (-1.0 / sharp))


def climb(
    places: Floats,
    allowed: BaseGeometry,
    points: Floats,
    apart: float,
    step: float,
    sharp: float,
    illuminance: Illuminance,
) -> Floats:
    """Move all lights together up the slope of the power mean while that helps."""
    field = illuminance(places, points)
    now = float(value_of(field.sum(axis=1), sharp))
    length = step * FIRST_SHIFT
    while length >= LAST_SHIFT:
        slope = _slope(places, field, points, sharp, illuminance)
        steepest = float(np.hypot(slope[:, 0], slope[:, 1]).max())
        if steepest <= 0.0:
            break
        tried = _held(places, places + slope * (length / steepest), allowed, apart)
        lit = illuminance(tried, points)
        value = float(value_of(lit.sum(axis=1), sharp))
        if value > now * (1.0 + GAIN):
            places, field, now = tried, lit, value
        else:
            length /= 2.0
    return places


def _slope(
    places: Floats, field: Floats, points: Floats, sharp: float, illuminance: Illuminance
) -> Floats:
    """(n, 2) direction in which each light raises the power mean, by central differences."""
    total = field.sum(axis=1)
    weight = (total / total.min()) ** (-sharp - 1.0)
    ways = []
    for axis in (np.array([SLOPE, 0.0]), np.array([0.0, SLOPE])):
        change = illuminance(places + axis, points) - illuminance(places - axis, points)
        ways.append(weight @ change)
    return np.stack(ways, axis=1)


def _held(before: Floats, after: Floats, allowed: BaseGeometry, apart: float) -> Floats:
    """New places; a light that would leave what is allowed slides along its edge.

    All stay where they are if two would come too near each other.
    """
    out = ~shapely.intersects_xy(allowed, after[:, 0], after[:, 1])
    if out.any():
        lines = shapely.shortest_line(allowed, shapely.points(after[out]))
        after = after.copy()
        after[out] = shapely.get_coordinates(lines)[::2]
        still = ~shapely.intersects_xy(allowed, after[:, 0], after[:, 1])
        inside = shapely.dwithin(allowed, shapely.points(after[still]), 1e-6)
        after[np.flatnonzero(still)[~inside]] = before[np.flatnonzero(still)[~inside]]
    gaps = np.hypot(*(after[:, None] - after[None]).transpose(2, 0, 1))
    gaps[np.diag_indices(len(after))] = np.inf
    return before if (gaps < apart).any() else after


def shift(
    places: Floats,
    allowed: BaseGeometry,
    points: Floats,
    apart: float,
    step: float,
    illuminance: Illuminance,
) -> Floats:
    """Shift single lights in ever smaller steps while that brightens the darkest point."""
    places = places.copy()
    field = illuminance(places, points)
    now = float(value_of(field.sum(axis=1), math.inf))
    length = step * FIRST_SHIFT
    while length >= LAST_SHIFT:
        helped = False
        for i in range(len(places)):
            tries = places[i] + length * _AROUND
            fine = shapely.intersects_xy(allowed, tries[:, 0], tries[:, 1])
            others = np.delete(places, i, axis=0)
            fine &= (np.hypot(*(tries[:, None] - others).transpose(2, 0, 1)) >= apart).all(axis=1)
            tried = illuminance(tries, points)
            rest = field.sum(axis=1) - field[:, i]
            value = np.where(fine, value_of(rest[:, None] + tried, math.inf), -1.0)
            k = int(value.argmax())
            if value[k] > now * (1.0 + GAIN):
                places[i], field[:, i], now, helped = tries[k], tried[:, k], float(value[k]), True
        if not helped:
            length /= 2.0
    return places
