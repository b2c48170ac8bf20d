"""Many lights in one window: rows of them, side by side, as many as there is room for.

Lights of one row lie side by side, all feet of one sort in one line, so that a strip can pass along
them; where lights may be turned half round, every second row is, so that feet of one sort face each
other. Rows are tried at every turn that is allowed and shifted in steps; in a row as many stand as
it holds, evenly.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from ..model.card import Opening
from ..profiles import LightType
from ..records import record
from ..units import TOLERANCE
from .brightness import Illuminance
from .figures import Poses, only, poses
from .fitting import Setting, turns_for
from .poles import QUARTER
from .room import Occupied, Room, off_tape, on_base, shortage
from .spreading import brightest_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

#: Rows are shifted in so many steps from one to the next.
SHIFTS = 12

#: Distances of rows against the least ones: wider where fewer lights are wanted than would fit.
WIDER = (3.0, 2.5, 2.0, 1.7, 1.45, 1.25, 1.1)


@record
class Rows:
    """Distances between lights of a row and between rows (mm); `flip`: every second row turned."""

    beside: float
    between: float
    flip: bool


def in_rows(
    opening: Opening, n: int, setting: Setting, occupied: Occupied, illuminance: Illuminance
) -> tuple[Poses | None, Room]:
    """Up to n lights in rows (None where not one has room), and the room that they have."""
    best: tuple[Poses | None, Room] = (None, setting.rooms[-1])
    for room in setting.rooms[1:]:
        found = _fullest(opening, 1.0, setting, occupied, room)
        if found is not None and len(found) >= n:
            for wider in WIDER:
                apart = _fullest(opening, wider, setting, occupied, room)
                if apart is not None and len(apart) >= n:
                    found = apart
                    break
            return _some(found, n, opening, illuminance), room
        if found is not None and (best[0] is None or len(found) > len(best[0])):
            best = (found, room)
    return best


def _some(found: Poses, n: int, opening: Opening, illuminance: Illuminance) -> Poses:
    """The n of many lights that make the darkest point brightest."""
    return only(found, sorted(brightest_of(found.centres, opening.clear, n, illuminance)))


def _fullest(
    opening: Opening, wider: float, setting: Setting, occupied: Occupied, room: Room
) -> Poses | None:
    """The rows that hold most lights; the first of equal ones. None where none holds one."""
    light = setting.wish.light
    inner = TOLERANCE / 2.0 - light.lens / 2.0
    allowed = shapely.buffer(opening.clear, inner, quad_segs=QUARTER)
    if allowed.is_empty:
        return None
    tried = [
        one
        for axis, rows in _ways(light, turns_for(opening, setting), room)
        for one in _all_rows(allowed, axis, rows, wider)
    ]
    best: Poses | None = None
    for centres, turns in sorted(tried, key=lambda one: -len(one[1])):
        if best is not None and len(turns) <= len(best):
            break
        found = poses(light, centres, turns)
        fine = on_base(occupied, found, room) & off_tape(occupied, found, room)
        if fine.any():
            fine &= shortage(occupied, found, light, room)[0] == 0.0
        if fine.any() and (best is None or fine.sum() > len(best)):
            best = only(found, np.flatnonzero(fine))
    return best


def _ways(light: LightType, turns: Floats, room: Room) -> Iterator[tuple[float, Rows]]:
    """Turns of rows, each with its least distances."""
    between_feet = light.pad_pitch - light.pad[0]
    lacking = math.sqrt(max(room.feet**2 - max(between_feet, 0.0) ** 2, 0.0))
    beside = max(light.body[1] + room.bodies, light.pad[1] + lacking)
    body = light.body[0] + room.bodies
    end_to_end = light.pad_pitch + light.pad[0]
    allowed = {round(float(turn), 6) for turn in turns}
    for turn in sorted(allowed):
        half_round = round((turn + 180.0) % 360.0, 6)
        if half_round not in allowed:
            yield turn, Rows(beside, max(body, end_to_end + room.feet), False)
        elif turn < half_round:  # plus to the right, or up
            yield (
                turn if turn == 0.0 else half_round,
                Rows(beside, max(body, end_to_end + room.bodies), True),
            )


def _all_rows(
    allowed: BaseGeometry, axis: float, rows: Rows, wider: float
) -> Iterator[tuple[Floats, Floats]]:
    """(k, 2) places in an area and (k,) turns of rows at one turn, at every shift of the rows."""
    upright = affinity.rotate(allowed, -axis, origin=(0.0, 0.0))
    left, top, right, bottom = upright.bounds
    between, beside = rows.between * wider, rows.beside * wider
    for shift in range(SHIFTS):
        at = np.arange(left + between * shift / SHIFTS, right + 1e-9, between)
        if not len(at):  # narrower than a shift: one row in its middle
            at = np.array([(left + right) / 2.0])
        ends = np.stack([np.stack([at, at]).T, [[top - 1.0, bottom + 1.0]] * len(at)], axis=-1)
        spots = _side_by_side(shapely.intersection(shapely.linestrings(ends), upright), beside)
        row = np.repeat(np.arange(len(at)), [len(one) for one in spots])
        if len(row):
            places = np.stack([at[row], np.concatenate(spots)], axis=1)
            c, s = math.cos(math.radians(axis)), math.sin(math.radians(axis))
            turns = (axis + 180.0 * rows.flip * (row % 2)) % 360.0
            yield places @ np.array([[c, s], [-s, c]]), np.asarray(turns, dtype=np.float64)


def _side_by_side(cuts: np.ndarray, beside: float) -> list[Floats]:
    """For each cut (upright lines through an area) as many y as stand `beside` apart, evenly."""
    found = []
    for cut in cuts:
        spots: list[float] = []
        last = -math.inf
        for part in shapely.get_parts(cut):
            if part.is_empty:  # the line runs between parts of the area
                continue
            _, low, _, high = part.bounds
            low = max(low, last + beside)
            n = math.floor((high - low + TOLERANCE) / beside) + 1
            if high >= low:
                spots += np.linspace(low, high, n).tolist() if n > 1 else [(low + high) / 2.0]
                last = spots[-1]
        found.append(np.array(spots))
    return found
