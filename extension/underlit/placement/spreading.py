"""Several lights in one opening: the places that make its darkest point brightest.

Places and judged points are laid on grids over the opening; from several starts (even cover,
greedy, from either end) single lights are moved to the best free place until nothing helps; then
all climb together, and one by one, in ever smaller steps off the grid. The darkest point is a
minimum, and moving one light often cannot lift it; so a smooth stand-in (a power mean that leans on
the dark points, more and more) is raised first. No random numbers; ties go to the first place in
reading order.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_along
from ..units import TOLERANCE
from .climbing import climb, shift, value_of
from .poles import QUARTER

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from .brightness import Illuminance

    Floats = NDArray[np.float64]

#: About how many places are tried and how many points judged, in one opening.
PLACES = 260
POINTS = 900

#: Exponents of the power mean (minus infinity is the darkest point itself).
SOFT = 6.0
SHARPER = (6.0, 30.0, 150.0)
HARD = math.inf

#: How many of the best sets on the grid climb, and how many coarse sets are all tried.
CLIMBS = 5
SETS = 2500

#: Rounds after which moving stops at the latest.
ROUNDS = 40


def spread(
    clear: BaseGeometry, n: int, margin: float, apart: float, illuminance: Illuminance
) -> Floats:
    """(k, 2) places in reading order, k <= n: fewer where no more keep `apart` (mm) between them.

    `clear` is what stays open; places keep `margin` (mm) from its edge.
    """
    allowed = shapely.buffer(clear, TOLERANCE / 2.0 - margin, quad_segs=QUARTER)
    if n < 1 or allowed.is_empty:
        return np.empty((0, 2))
    places, step = grid(allowed, PLACES)
    points = _judged(clear)
    field = illuminance(places, points)
    far = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1)) >= apart
    starts = {tuple(start): None for start in _starts(places, field, far, n)}
    starts |= {tuple(sorted(_exchange(one, field, far, SOFT))): None for one in starts}
    starts |= {tuple(sorted(_exchange(one, field, far, HARD))): None for one in starts}
    ranked = sorted(starts, key=lambda one: (-len(one), -field[:, one].sum(axis=1).min()))
    best, brightest = places[:0], -math.inf
    for chosen in ranked[:CLIMBS]:
        if len(chosen) < len(best):
            break
        moved = places[list(chosen)]
        for sharp in SHARPER:
            moved = climb(moved, allowed, points, apart, step, sharp, illuminance)
        moved = shift(moved, allowed, points, apart, step, illuminance)
        darkest = float(illuminance(moved, points).sum(axis=1).min())
        if darkest > brightest * (1.0 + 1e-9):
            best, brightest = moved, darkest
    return np.asarray(best[np.lexsort((best[:, 0], best[:, 1].round(3)))])


def brightest_of(
    places: Floats, clear: BaseGeometry, n: int, illuminance: Illuminance
) -> list[int]:
    """Indices of the n of (k, 2) places (n <= k) that make the darkest point brightest."""
    field = illuminance(places, _judged(clear))
    far = np.ones((len(places), len(places)), dtype=bool)
    np.fill_diagonal(far, False)  # no place is taken twice
    chosen = _greedy(field, far, n)
    return _exchange(_exchange(chosen, field, far, SOFT), field, far, HARD)


def grid(area: BaseGeometry, about: int) -> tuple[Floats, float]:
    """Places of a square grid inside an area in reading order, and its step (mm).

    At least one: a narrow area that no grid point hits gives points along its edge.
    """
    left, top, right, bottom = area.bounds
    step = max(math.sqrt(area.area / about), max(right - left, bottom - top) / 400.0, 1e-3)
    columns = _even(left, right, step)
    rows = _even(top, bottom, step)
    places = np.stack(np.meshgrid(columns, rows), axis=-1).reshape(-1, 2)
    shapely.prepare(area)
    places = places[shapely.intersects_xy(area, places[:, 0], places[:, 1])]
    if len(places) < about // 8:
        rim = shapely.segmentize(
            shapely.boundary(area), step_along(step, shapely.length(area), about)
        )
        places = np.concatenate([places, np.unique(shapely.get_coordinates(rim), axis=0)])
    return places, step


def _even(low: float, high: float, step: float) -> Floats:
    """Numbers in steps of about `step`, as far from one end as from the other."""
    n = max(int((high - low) / step), 1)
    return low + (high - low) * (np.arange(n) + 0.5) / n


def _judged(clear: BaseGeometry) -> Floats:
    """Points of an opening whose brightness counts: its corners, its edge, a grid."""
    inner, _ = grid(clear, POINTS // 2)
    edge = shapely.segmentize(shapely.boundary(clear), shapely.length(clear) / (POINTS // 3))
    rim = shapely.get_coordinates(edge)
    return np.concatenate([inner, rim[:: max(len(rim) // POINTS, 1)]])


def _starts(places: Floats, field: Floats, far: np.ndarray, n: int) -> list[list[int]]:
    """Sets of up to n places to begin with."""
    ends = [int(places[:, 0].argmin()), int(places[:, 0].argmax())]
    ends += [int(places[:, 1].argmin()), int(places[:, 1].argmax())]
    middle = int(np.hypot(*(places - places.mean(axis=0)).T).argmin())
    found = [_even_cover(places, far, first, n) for first in (middle, *ends)]
    found.append(_greedy(field, far, n))
    found += _coarse(places, field, far, n)
    return [list(start) for start in dict.fromkeys(tuple(sorted(one)) for one in found)]


def _coarse(places: Floats, field: Floats, far: np.ndarray, n: int) -> list[list[int]]:
    """The best of all sets of n out of a few places; nothing where n is too many for that."""
    few = n
    while few < len(places) and math.comb(few + 1, n) <= SETS:
        few += 1
    if few < 3 * n:
        return []
    spots = _even_cover(places, np.ones_like(far), 0, min(few, 60))
    sets = np.array(list(itertools.combinations(spots, n)))
    pairs = itertools.combinations(range(n), 2)
    sets = sets[np.all([far[sets[:, a], sets[:, b]] for a, b in pairs], axis=0)]
    if not len(sets):
        return []
    few_points = field[:: max(1, len(field) // 300)]
    darkest = few_points[:, sets].sum(axis=2).min(axis=0)
    best = sets[np.argsort(-darkest, kind="stable")[:3]]
    return [[int(k) for k in one] for one in best]


def _even_cover(places: Floats, far: np.ndarray, first: int, n: int) -> list[int]:
    """Each further place is the one farthest from all before."""
    chosen = [first]
    nearest = np.hypot(*(places - places[first]).T)
    while len(chosen) < n:
        free = far[:, chosen].all(axis=1)
        if not free.any():
            break
        chosen.append(int(np.where(free, nearest, -1.0).argmax()))
        nearest = np.minimum(nearest, np.hypot(*(places - places[chosen[-1]]).T))
    return chosen


def _greedy(field: Floats, far: np.ndarray, n: int) -> list[int]:
    """Each further place is the one that helps most."""
    chosen: list[int] = []
    total = np.zeros(len(field))
    while len(chosen) < n:
        free = far[:, chosen].all(axis=1)
        if not free.any():
            break
        value = np.where(free, value_of(total[:, None] + field, SOFT), -1.0)
        chosen.append(int(value.argmax()))
        total = total + field[:, chosen[-1]]
    return chosen


def _exchange(chosen: Sequence[int], field: Floats, far: np.ndarray, sharp: float) -> list[int]:
    """Move one light after another to the best free place until nothing helps."""
    chosen = list(chosen)
    total = field[:, chosen].sum(axis=1)
    now = float(value_of(total, sharp))
    for _ in range(ROUNDS):
        before = now
        for i, place in enumerate(chosen):
            rest = total - field[:, place]
            others = chosen[:i] + chosen[i + 1 :]
            value = value_of(rest[:, None] + field, sharp)
            value = np.where(far[:, others].all(axis=1), value, -1.0)
            better = int(value.argmax())
            if value[better] > now * (1.0 + 1e-9):
                chosen[i], now = better, float(value[better])
                total = rest + field[:, better]
        if now <= before * (1.0 + 1e-6):
            break
    return chosen
