"""Tape in the openings of its own lights: allowed up to a share, and dearer than elsewhere."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from .task import Task

#: What a mm of tape in an own opening costs more than elsewhere, at first.
AT_FIRST = 0.7

#: Prices are taken from outlines that are this coarse (mm): curves of many sides cost time.
COARSE = 0.1

#: An opening that shows too much gets this much dearer.
DEARER = 3.0


class Windows:
    """Own openings with the price of tape in each."""

    def __init__(self, task: Task, rates: tuple[float, ...] | None = None) -> None:
        self.task = task
        areas = np.array([o.area for o in task.openings], dtype=object)
        self.areas = shapely.simplify(areas, COARSE) if len(areas) else areas
        self.rates = np.array(rates or [AT_FIRST] * len(self.areas))
        self.bounds = shapely.bounds(self.areas) if len(self.areas) else np.zeros((0, 4))

    def price(self, rows: np.ndarray) -> np.ndarray:
        """(k,) what centre lines (k, 4) cost for what of them lies in openings."""
        cost = np.zeros(len(rows))
        if not len(self.areas) or not len(rows):
            return cost
        b = self.bounds
        low = np.minimum(rows[:, :2], rows[:, 2:])
        high = np.maximum(rows[:, :2], rows[:, 2:])
        near = (low[:, None, 0] < b[None, :, 2]) & (high[:, None, 0] > b[None, :, 0])
        near &= (low[:, None, 1] < b[None, :, 3]) & (high[:, None, 1] > b[None, :, 1])
        i, k = np.nonzero(near)
        if len(i):
            lines = shapely.linestrings(rows[i].reshape(-1, 2, 2))
            inside = shapely.length(shapely.intersection(lines, self.areas[k]))
            np.add.at(cost, i, inside * self.rates[k])
        return cost

    def dearer(self, shown: list[int]) -> Windows:
        """The same with these openings dearer."""
        rates = self.rates.copy()
        rates[shown] *= DEARER
        return Windows(self.task, tuple(rates.tolist()))

    def around(self, half: float) -> BaseGeometry | None:
        """The openings with half a tape's width around them: a way round is worth a look."""
        if not len(self.areas):
            return None
        rounded = shapely.buffer(shapely.simplify(self.areas, 0.3), half + 0.4, quad_segs=3)
        return shapely.union_all(rounded)


def overfull(task: Task, strips: list[BaseGeometry], bodies: list[Polygon]) -> list[int]:
    """Numbers of own openings in which strips take more than their share."""
    if not task.openings:
        return []
    tape = shapely.union_all(strips)
    parts = shapely.union_all(bodies)
    found = []
    for k, opening in enumerate(task.openings):
        seen = opening.area.intersection(tape).difference(parts)
        if seen.area > opening.share * opening.area.area:
            found.append(k)
    return found
