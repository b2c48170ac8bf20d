"""The foam ring round a spot to press: how large, and where a pull tab passes it."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi

import shapely
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from ..profiles.materials import PressRule
from ..stack import Layers
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


def ring_at(
    at: Point,
    inside: float,
    width: float,
    foam: Layers,
    tab: BaseGeometry | None,
) -> Ring:
    """The ring about a place; `tab` is the area of a pull tab that has to pass."""
    inner, outer = inside / 2.0, inside / 2.0 + width
    centre = Spot(*at)
    area = centre.buffer(outer, QUARTER).difference(centre.buffer(inner / SHORT, QUARTER))
    if tab is not None:
        area = area.difference(tab.buffer(BESIDE_TAB, join_style="mitre"))
    assert foam.travel is not None  # there is a battery to press
    return Ring(inside, 2.0 * outer, foam.foams, foam.thickness, foam.travel, area)
