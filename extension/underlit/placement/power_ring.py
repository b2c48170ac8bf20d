"""The foam ring round a spot to press: how large, of which foam, how far the panel travels."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations_with_replacement
from math import cos, pi

import shapely
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from ..profiles.materials import FoamType, PressRule
from .power_data import Point, Ring, Wish

#: Segments of a quarter of the ring: within 0.005 mm of a circle of 30 mm.
QUARTER = 48

#: A circle of segments lies inside the true one; the hole of a ring must not.
SHORT = cos(pi / (4 * QUARTER))

#: Free on each side of a pull tab where it passes the ring (mm); common practice, no source.
BESIDE_TAB = 1.0


def ring_sizes(wish: Wish, rule: PressRule) -> Iterator[float]:
    """Inside diameters to try: the one aimed at, then the smallest (where that is smaller)."""
    parts = shapely.union_all([wish.body, *wish.pads.values()])
    corners = shapely.points(shapely.get_coordinates(parts))
    reach = wish.radius if wish.bare else float(shapely.distance(corners, Spot(0.0, 0.0)).max())
    least = 2.0 * (reach + rule.ring_beside)
    aim = max(rule.ring_inside, least)
    yield aim
    small = max(min(rule.ring_inside_min, rule.ring_inside), least)
    if small < aim:
        yield small


def foam_for(
    height: float, foams: Mapping[str, FoamType], rule: PressRule, settling: float
) -> tuple[tuple[str, ...], float] | None:
    """The layers of foam over something `height` mm high, and the travel that they leave.

    Travel = thickness x (1 - settling) - height lies in the rule's range; fewest layers first, then
    fewest kinds, then nearest to the middle of the range. None: no such layers.
    """
    low, high = min(rule.travel), max(rule.travel)
    names = tuple(foams)
    for layers in range(1, int(rule.most_layers) + 1):
        found = []
        for stack in combinations_with_replacement(range(len(names)), layers):
            travel = sum(foams[names[i]].thickness for i in stack) * (1.0 - settling) - height
            if low <= travel <= high:
                off = round(abs(travel - (low + high) / 2.0), 6)
                found.append((len(set(stack)), off, stack, travel))
        if found:
            _, _, stack, travel = min(found)
            return tuple(names[i] for i in stack), travel
    return None


def ring_at(
    at: Point,
    inside: float,
    width: float,
    foam: tuple[tuple[str, ...], float],
    foams: Mapping[str, FoamType],
    tab: BaseGeometry | None,
) -> Ring:
    """The ring about a place; `tab` is the area of a pull tab that has to pass."""
    inner, outer = inside / 2.0, inside / 2.0 + width
    centre = Spot(*at)
    area = centre.buffer(outer, QUARTER).difference(centre.buffer(inner / SHORT, QUARTER))
    if tab is not None:
        area = area.difference(tab.buffer(BESIDE_TAB, join_style="mitre"))
    names, travel = foam
    thickness = sum(foams[name].thickness for name in names)
    return Ring(inside, 2.0 * outer, names, thickness, travel, area)
