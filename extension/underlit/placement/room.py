"""Room for hands and tape round a light: all its limits, and whether a light has it.

A foot of the size p takes tape of the width w, which may stick out (w - p) / 2 on either side; two
tapes of opposite polarity keep the gap of the profile between them. So feet of two lights need
(w - p) + gap between them, and a foot needs (w - p) / 2 + gap to another part, (w - p) / 2 + margin
to the edge of the back sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..profiles import LightType, Limits
from ..records import record
from ..units import TOLERANCE
from .figures import Poses, reach
from .outcome import Taken, Tapes

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

#: Between the bodies of two parts (mm). Common practice (a fingernail), no source.
BETWEEN_BODIES = 0.5


@record
class Room:
    """One degree of room (mm).

    `feet`: between feet of different lights of opposite polarity, with `every_foot` of any;
    `part`: from a foot to the body of another part; `edge`: from a foot to the base's edge;
    `tape`: from a foot to tape of the other side that lies there (None: lights may lie across it).
    """

    name: str
    bodies: float
    feet: float
    every_foot: bool
    part: float
    edge: float
    tape: float | None


def degrees_of_room(limits: Limits, tape: float, light: LightType) -> tuple[Room, Room, Room]:
    """What to aim at, the limit, and the least with which a light is placed at all.

    `tape` is the width of the tape (mm). The least has no margin to the edge of the base.
    """
    spare = max(0.0, tape - min(light.pad))
    half = spare / 2.0
    aim = Room(
        "aim",
        max(BETWEEN_BODIES, limits.aim_gap),
        spare + limits.aim_gap,
        True,
        half + limits.aim_gap,
        half + limits.aim_edge,
        light.gap_at_light,
    )
    limit = Room(
        "limit",
        BETWEEN_BODIES,
        spare + limits.smallest_gap,
        False,
        half + limits.smallest_gap,
        half + limits.edge_margin,
        light.gap_at_light,
    )
    tight = Room("tight", BETWEEN_BODIES, limit.feet, False, half, 0.0, light.gap_at_light)
    return aim, limit, tight


class Occupied:
    """What is taken while lights are placed one after another. Grows; nothing is removed."""

    def __init__(
        self, base: BaseGeometry, taken: Sequence[Taken], tapes: Tapes | None = None
    ) -> None:
        self.base = base
        self.tapes = tapes
        self.edge = shapely.boundary(base)
        shapely.prepare(self.base)
        shapely.prepare(self.edge)
        self.names: list[str] = []
        self.cores = {one.name: one for one in taken if one.core is not None}
        self._bounds = np.empty((0, 4))
        self._shapes: list[tuple[BaseGeometry, BaseGeometry | None, BaseGeometry | None]] = []
        for one in taken:
            if not one.area.is_empty:
                self.add(one.name, one.area, one.plus, one.minus)

    def add(
        self,
        name: str,
        body: BaseGeometry,
        plus: BaseGeometry | None = None,
        minus: BaseGeometry | None = None,
    ) -> None:
        """Take the room of one more part."""
        if len(self._shapes) >= len(self._bounds):
            self._bounds = np.concatenate([self._bounds, np.full((64 + len(self._bounds), 4), 0.0)])
        self._bounds[len(self._shapes)] = body.bounds
        self.names.append(name)
        self._shapes.append((body, plus, minus))

    def near(self, at: tuple[float, float], within: float) -> list[int]:
        """Indices of the parts whose bounds come within a distance of a place."""
        bounds = self._bounds[: len(self._shapes)]
        x = np.maximum(np.maximum(bounds[:, 0] - at[0], at[0] - bounds[:, 2]), 0.0)
        y = np.maximum(np.maximum(bounds[:, 1] - at[1], at[1] - bounds[:, 3]), 0.0)
        return [int(i) for i in np.flatnonzero(np.hypot(x, y) <= within)]

    def shape(self, i: int) -> tuple[BaseGeometry, BaseGeometry | None, BaseGeometry | None]:
        """Body, plus foot and minus foot of part i."""
        return self._shapes[i]


def on_base(occupied: Occupied, found: Poses, room: Room) -> np.ndarray:
    """(k,) whether body and feet lie on the base with the room wanted."""
    feet = np.stack([found.plus, found.minus])
    inside = shapely.covers(occupied.base, found.bodies)
    unsure = ~inside
    if unsure.any():  # a body may stand on the edge within the tolerance
        over = shapely.difference(found.bodies[unsure], occupied.base)
        inside[unsure] = shapely.is_empty(shapely.buffer(over, -TOLERANCE / 2.0))
    if room.edge > 0.0:
        inside &= (shapely.distance(feet, occupied.edge) >= room.edge - TOLERANCE).all(axis=0)
    return np.asarray(inside)


def off_tape(occupied: Occupied, found: Poses, room: Room) -> np.ndarray:
    """(k,) whether feet and bodies keep off tape that is not theirs."""
    tapes = occupied.tapes
    if tapes is None or room.tape is None:
        return np.ones(len(found), dtype=bool)
    fine = ~shapely.intersects(found.bodies, tapes.unknown)
    for feet, other in ((found.plus, tapes.minus), (found.minus, tapes.plus)):
        if not other.is_empty:
            fine &= shapely.distance(feet, other) >= room.tape - TOLERANCE
    return np.asarray(fine)


def shortage(occupied: Occupied, found: Poses, light: LightType, room: Room) -> tuple[Floats, int]:
    """(k,) how much room is missing to other parts (mm, 0: none), and the part that is worst.

    The worst is the one that is most in the way of the light that has most room; -1 without any.
    """
    missing = np.zeros(len(found))
    worst = np.full(len(found), -1)
    widest = reach(light) + max(room.bodies, room.feet, room.part)
    near = sorted({i for at in np.unique(found.centres, axis=0) for i in occupied.near(at, widest)})
    for i in near:
        lacking = _lacking(occupied.shape(i), found, room)
        worst = np.where(lacking > missing + TOLERANCE / 2.0, i, worst)  # the first of equal ones
        missing = np.maximum(missing, lacking)
    missing[missing <= TOLERANCE] = 0.0
    return missing, int(worst[least(missing)])


def least(missing: Floats) -> int:
    """The first of those that lack least, whatever rounding makes of them."""
    return int(np.flatnonzero(missing <= missing.min() + TOLERANCE / 2.0)[0])


def _lacking(
    other: tuple[BaseGeometry, BaseGeometry | None, BaseGeometry | None], found: Poses, room: Room
) -> Floats:
    body, plus, minus = other
    lacking = room.bodies - shapely.distance(found.bodies, body)
    if plus is None or minus is None:
        for feet in (found.plus, found.minus):
            lacking = np.maximum(lacking, room.part - shapely.distance(feet, body))
        return np.asarray(lacking)
    pairs = [(found.plus, minus), (found.minus, plus)]
    pairs += [(found.plus, plus), (found.minus, minus)] if room.every_foot else []
    for feet, foot in pairs:
        lacking = np.maximum(lacking, room.feet - shapely.distance(feet, foot))
    return np.asarray(lacking)
