"""Tape in the openings of its own lights: allowed up to a share, and dearer than elsewhere."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from .segments import NONE
from .task import Task

#: A straight link by its ends: x1 y1 x2 y2.
Link = tuple[float, ...]

#: What a mm of tape in an own opening costs more than elsewhere, at first.
AT_FIRST = 0.7

#: Prices are taken from outlines that are this coarse (mm): curves of many sides cost time.
COARSE = 0.1

#: An opening that shows too much gets this much dearer.
DEARER = 3.0

#: Lines times sides that are looked at in one go; with more, opening by opening.
AT_ONCE = 8000

#: What shapely calls a polygon.
POLYGON = 3


class Windows:
    """Own openings with the price of tape in each."""

    def __init__(self, task: Task, rates: tuple[float, ...] | None = None) -> None:
        self.task = task
        areas = np.array([o.area for o in task.openings], dtype=object)
        self.areas = shapely.simplify(areas, COARSE) if len(areas) else areas
        self.rates = np.array(rates or [AT_FIRST] * len(self.areas))
        self.bounds = shapely.bounds(self.areas) if len(self.areas) else np.zeros((0, 4))
        sides = [_sides(area) for area in self.areas]
        self.sides = np.concatenate([NONE, *sides])
        self.side_of = np.repeat(np.arange(len(sides)), [len(s) for s in sides])
        #: what links cost that were asked for before
        self.known: dict[Link, float] = {}

    def price(self, rows: np.ndarray) -> np.ndarray:
        """(k,) what centre lines (k, 4) cost for what of them lies in openings."""
        cost = np.zeros(len(rows))
        if not len(self.areas) or not len(rows):
            return cost
        b = self.bounds
        low = np.minimum(rows[:, :2], rows[:, 2:])
        high = np.maximum(rows[:, :2], rows[:, 2:])
        near = (low[:, None] < b[None, :, 2:]).all(axis=2)
        near &= (high[:, None] > b[None, :, :2]).all(axis=2)
        met = near.any(axis=0)
        if not met.any():
            return cost
        if len(self.sides) * len(rows) <= AT_ONCE:
            these = met[self.side_of]
            return length_within(rows, self.sides[these], self.rates[self.side_of[these]])
        for k in np.flatnonzero(met).tolist():
            here, these = near[:, k], self.side_of == k
            cost[here] += length_within(rows[here], self.sides[these], self.rates[[k]])
        return cost

    def together(self, links: Iterable[Link]) -> float:
        """What straight links cost together for what of them lies in openings."""
        if not len(self.areas):
            return 0.0
        links = list(links)
        new = [link for link in links if link not in self.known]
        if new:
            self.known.update(zip(new, self.price(np.array(new)).tolist(), strict=True))
        return sum(self.known[link] for link in links)

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


def _sides(area: BaseGeometry) -> np.ndarray:
    """(n, 4) sides of all rings of an area, each with the area on the same hand."""
    polygons = shapely.get_parts(shapely.normalize(area))
    rings = shapely.get_rings(polygons[shapely.get_type_id(polygons) == POLYGON])
    corners = [shapely.get_coordinates(ring) for ring in rings]
    return np.concatenate([NONE, *(np.hstack([c[:-1], c[1:]]) for c in corners)])


def length_within(rows: np.ndarray, sides: np.ndarray, rates: np.ndarray) -> np.ndarray:
    """(k,) length of straight lines (k, 4) within areas of these sides (n, 4), times their rates.

    Every side that a line crosses, or would cross before its beginning, adds all of the line that
    comes after if it leads in, and takes it off if it leads out.
    """
    x, y, to_x, to_y = rows.T[:, :, None]
    wx, wy = to_x - x, to_y - y
    first = wx * (sides[:, 1] - y) - wy * (sides[:, 0] - x)
    then = wx * (sides[:, 3] - y) - wy * (sides[:, 2] - x)
    leads_in = (then > 0.0).astype(float) - (first > 0.0)
    spread = np.where(leads_in == 0.0, 1.0, first - then)
    part = first / spread
    far = wx * (sides[:, 0] + part * (sides[:, 2] - sides[:, 0]) - x)
    far += wy * (sides[:, 1] + part * (sides[:, 3] - sides[:, 1]) - y)
    size = np.maximum(np.hypot(wx, wy), 1e-12)
    rest = np.minimum(np.maximum(size - far / size, 0.0), size)
    within: np.ndarray = (leads_in * rest * rates).sum(axis=1)
    return within


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
