"""Why an opening stays without a light: what is measured against what is needed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..profiles import LightType
from ..units import TOLERANCE
from .figures import Poses, only
from .outcome import Placed, Unlit, unlit
from .room import Occupied, Room, least, on_base, shortage
from .seating import Seat


def why_not(
    seat: Seat, every: Poses, light: LightType, tight: Room, occupied: Occupied
) -> tuple[Unlit, int]:
    """Why a light has no room where it should be, and the part that is in its way (-1: none).

    `every` are its allowed turns there. The turn that comes nearest is the one told of.
    """
    if occupied.base.is_empty:
        return unlit(seat.opening, "no-base", 0.0, 0.0, seat.at), -1
    inside = on_base(occupied, every, tight)
    if not inside.any():
        over = min(_overhang(body, occupied.base) for body in every.bodies)
        return unlit(seat.opening, "off-base", over, 0.0, seat.at), -1
    some = only(every, np.flatnonzero(inside))
    missing, worst = shortage(occupied, some, light, tight)
    if worst < 0:  # there is room here: some other place was asked for
        return unlit(seat.opening, "no-room", 0.0, tight.bodies, seat.at), -1
    body, plus, minus = occupied.shape(worst)
    k = least(missing)
    measured, needed = float(shapely.distance(some.bodies[k], body)), tight.bodies
    if measured >= needed - TOLERANCE:
        needed = tight.part if plus is None or minus is None else tight.feet
        measured = max(0.0, needed - float(missing[k]))
    name = occupied.names[worst]
    told = occupied.cores.get(name)
    if told is not None:
        needed = tight.bodies + told.margin
        measured = float(shapely.distance(some.bodies[k], told.core))
    return unlit(seat.opening, "no-room", measured, needed, seat.at, name), worst


def _overhang(body: BaseGeometry, base: BaseGeometry) -> float:
    """How far a body reaches beyond the base (mm)."""
    corners = shapely.points(shapely.get_coordinates(body))
    return float(shapely.distance(corners, base).max())


def left_over(
    seats: Sequence[Seat], placed: Mapping[int, Placed], failed: Mapping[int, Unlit]
) -> list[Unlit]:
    """One reason per opening of which no light was placed; mappings are by seat."""
    lit = {seats[i].opening.name for i in placed}
    first: dict[str, Unlit] = {}
    for i in sorted(failed):
        first.setdefault(seats[i].opening.name, failed[i])
    return [one for name, one in first.items() if name not in lit]
