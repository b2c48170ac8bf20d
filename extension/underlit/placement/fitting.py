"""Find a place and a turn with room for one light, given all that is there already."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..model.card import Opening
from ..records import record
from .figures import Poses, only, poses, reach
from .outcome import Ground, Wish
from .room import Occupied, Room, off_tape, on_base, shortage
from .seating import Seat, next_best
from .turning import FREE_WAY, costs

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

#: Openings are followed within this where tape in them is only weighed up (mm).
COARSE = 0.2


@record
class Setting:
    """What stays the same while lights are placed. `across` is the turn across its row by seat."""

    ground: Ground
    wish: Wish
    tape: float
    rooms: tuple[Room, Room, Room]
    turns: Floats
    windows: shapely.STRtree
    across: tuple[float | None, ...]


def coarse(areas: Sequence[BaseGeometry]) -> list[BaseGeometry]:
    """Areas with fewer corners, to be weighed up and not measured."""
    return list(shapely.simplify(list(areas), COARSE)) if areas else []


def find(
    seat: Seat, i: int, setting: Setting, occupied: Occupied, turn: float | None
) -> tuple[Poses | None, Room]:
    """A place and turn with room, None (and the least room) without."""
    if turn is not None:
        limit = setting.rooms[1]
        every = with_room(np.array(seat.at), seat.opening, limit, setting, occupied)
        which = np.flatnonzero(every.turns == turn)
        if len(which):
            return only(every, which), limit
    for place, room in _tries(seat, setting):
        pose = _turned(seat, i, place, room, setting, occupied)
        if pose is not None:
            return pose, room
    return None, setting.rooms[-1]


def _tries(seat: Seat, setting: Setting) -> Iterator[tuple[Floats, Room]]:
    """Places and degrees of room in the order of liking: where it should be, then the next best.

    Across tape that lies there only where nothing keeps off it.
    """
    aim, limit, tight = setting.rooms
    here = np.array(seat.at)
    yield here, aim
    yield here, limit
    elsewhere = next_best(seat, setting.wish.light.lens)
    yield from ((place, limit) for place in elsewhere)
    yield here, tight
    yield from ((place, tight) for place in elsewhere)
    if setting.ground.tapes is not None:
        for room in (limit, tight):
            yield here, replace(room, tape=None)
        yield from ((place, replace(tight, tape=None)) for place in elsewhere)


def turns_for(opening: Opening, setting: Setting) -> Floats:
    """The turns that lights of an opening may have: one where that is locked."""
    locked = setting.wish.locked.get(opening.name)
    return setting.turns if locked is None else np.array([locked])


def every_turn(place: Floats, opening: Opening, setting: Setting) -> Poses:
    """The light of an opening at a place in all turns that are allowed."""
    turns = turns_for(opening, setting)
    return poses(setting.wish.light, np.repeat(place[None, :], len(turns), axis=0), turns)


def with_room(
    place: Floats, opening: Opening, room: Room, setting: Setting, occupied: Occupied
) -> Poses:
    """The turns at a place that have the room."""
    every = every_turn(place, opening, setting)
    fine = on_base(occupied, every, room) & off_tape(occupied, every, room)
    if fine.any():
        fine &= shortage(occupied, every, setting.wish.light, room)[0] == 0.0
    return only(every, np.flatnonzero(fine))


def _turned(
    seat: Seat, i: int, place: Floats, room: Room, setting: Setting, occupied: Occupied
) -> Poses | None:
    """The light at a place in its best turn, None where no turn has the room."""
    some = with_room(place, seat.opening, room, setting, occupied)
    if not len(some):
        return None
    if len(some) > 1:
        cost = turn_costs(seat, some, setting, occupied, setting.across[i])
        some = only(some, [int(cost.argmin())])
    return some


def turn_costs(
    seat: Seat, some: Poses, setting: Setting, occupied: Occupied, wanted: float | None
) -> Floats:
    """(k,) costs of the turns at one place; `wanted` is the turn across the row."""
    x, y = some.centres[0].tolist()
    light, openings = setting.wish.light, setting.ground.openings
    far = reach(light) + setting.tape + FREE_WAY
    window = (x - far, y - far, x + far, y + far)
    foreign = [
        _cut(setting.windows.geometries[k], window)
        for k in sorted(setting.windows.query(shapely.box(*window)).tolist())
        if openings[k].name != seat.opening.name
    ]
    return costs(
        some,
        light,
        setting.tape,
        wanted,
        occupied,
        occupied.near((x, y), far),
        _cut(shapely.simplify(seat.opening.clear, COARSE), window),
        [area for area in foreign if not area.is_empty],
    )


def _cut(area: BaseGeometry, window: tuple[float, float, float, float]) -> BaseGeometry:
    """What of an area lies in a window."""
    part = shapely.clip_by_rect(area, *window)
    return part if part.is_valid else part.buffer(0.0)
