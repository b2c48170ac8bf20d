"""Put lights under openings.

First the places (visual centre, or several places spread along), then a turn for each light in the
order of the openings. A light that finds no room where it should be goes to the next-best place in
its opening; one that earlier lights leave no room gets its turn before them, and all begin anew.
What cannot be lit is told with figures; the others are still placed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
import shapely

from ..model.card import Opening
from ..profiles import Limits
from ..records import record
from .brightness import Illuminance
from .explaining import left_over, why_not
from .figures import Poses, lens_share, reach
from .fitting import Setting, coarse, every_turn, find, turn_costs, with_room
from .joint import LARGEST_GROUP, groups, turns_together
from .outcome import Ground, Placed, Unlit, Wish
from .poles import clearance
from .room import Occupied, Room, degrees_of_room
from .seating import Seat, seats_for
from .turning import across, turns_of

#: How often all begin anew because a light was left no room.
BEGIN_ANEW = 12


@record
class Pass:
    """One round of placing: lights and failures by seat, and seats that new lights crowd out."""

    placed: dict[int, Placed]
    failed: dict[int, Unlit]
    crowded: tuple[int, ...]


@record
class Hands:
    """What hands and tape need: the limits of the profile, the width of the tape (mm)."""

    limits: Limits
    tape: float


@record
class Once:
    """Lights in the order of their openings, openings without any, and how many each should have;
    `proposed` as in `Placement`.

    Several lights of one opening come from top to bottom.
    """

    lights: tuple[Placed, ...]
    dark: tuple[Unlit, ...]
    wanted: Mapping[str, int]
    proposed: int | None


def place_once(
    openings: Sequence[Opening], ground: Ground, wish: Wish, hands: Hands, illuminance: Illuminance
) -> Once:
    """Lights for openings, each as many as there is room for where they should be."""
    should = seats_for(openings, wish, illuminance)
    placed, failed = _place_all(should.seats, setting_for(ground, wish, hands, should.seats))
    return Once(
        tuple(placed[i] for i in sorted(placed)),
        (*should.dark, *left_over(should.seats, placed, failed)),
        should.wanted,
        should.proposed,
    )


def setting_for(ground: Ground, wish: Wish, hands: Hands, seats: Sequence[Seat]) -> Setting:
    """What stays the same while lights are put to some seats."""
    return Setting(
        ground=ground,
        wish=wish,
        tape=hands.tape,
        rooms=degrees_of_room(hands.limits, hands.tape, wish.light),
        turns=turns_of(wish.turn),
        windows=shapely.STRtree(coarse([opening.outline for opening in ground.openings])),
        across=_across(seats, ground),
    )


def _across(seats: Sequence[Seat], ground: Ground) -> tuple[float | None, ...]:
    """The turn across its row of every seat; lights that lie there already count in the row."""
    lights = [one for one in ground.taken if one.plus is not None]
    others = [(one.area.centroid.x, one.area.centroid.y) for one in lights]
    places = np.array([*(seat.at for seat in seats), *others]).reshape(-1, 2)
    return tuple(across(places, i) for i in range(len(seats)))


def _place_all(
    seats: Sequence[Seat], setting: Setting
) -> tuple[dict[int, Placed], dict[int, Unlit]]:
    """Placed lights and failures by seat.

    Begins anew where a new light stands in another's way: first with turns that go together, then
    with the light that was left no room before the others.
    """
    best = _one_pass(seats, setting, {}, range(len(seats)))
    together = _turns_together(seats, best, setting)
    if together:
        best = _better(best, _one_pass(seats, setting, together, _order(seats, together)), seats)
    first: list[int] = []
    crowded = best.crowded
    for _ in range(BEGIN_ANEW):
        promoted = [i for i in crowded if i not in first]
        if not promoted:
            break
        first = [*promoted[:1], *first]
        again = _one_pass(seats, setting, together, _order(seats, first))
        best, crowded = _better(best, again, seats), again.crowded
    return best.placed, best.failed


def _order(seats: Sequence[Seat], first: Iterable[int]) -> list[int]:
    """All seats, some of them first."""
    ahead = list(first)
    return ahead + [i for i in range(len(seats)) if i not in ahead]


def _better(one: Pass, other: Pass, seats: Sequence[Seat]) -> Pass:
    """The pass with fewer failures, then with fewer lights beside their place; else the first."""
    a = (len(one.failed), len(_unsettled(one, seats)))
    b = (len(other.failed), len(_unsettled(other, seats)))
    return other if b < a else one


def _unsettled(one: Pass, seats: Sequence[Seat]) -> list[int]:
    """Seats whose light is not where it should be."""
    return [i for i in range(len(seats)) if i not in one.placed or one.placed[i].at != seats[i].at]


def _turns_together(seats: Sequence[Seat], one: Pass, setting: Setting) -> dict[int, float]:
    """Turns by seat for groups in which a pass has not put every light where it should be."""
    unsettled = set(_unsettled(one, seats))
    if not unsettled:
        return {}
    light, limit = setting.wish.light, setting.rooms[1]
    near = 2.0 * reach(light) + max(limit.bodies, limit.feet)
    occupied = Occupied(setting.ground.base, setting.ground.taken, setting.ground.tapes)
    found: dict[int, float] = {}
    for group in groups(np.array([seat.at for seat in seats]), near):
        if not unsettled.intersection(group) or not 1 < len(group) <= LARGEST_GROUP:
            continue
        every = [
            with_room(np.array(seats[i].at), seats[i].opening, limit, setting, occupied)
            for i in group
        ]
        if not all(map(len, every)):
            continue
        cost = [
            turn_costs(seats[i], some, setting, occupied, setting.across[i])
            for i, some in zip(group, every, strict=True)
        ]
        turns = turns_together(every, cost, limit)
        if turns is not None:
            found |= {
                i: float(some.turns[k]) for i, some, k in zip(group, every, turns, strict=True)
            }
    return found


def _one_pass(
    seats: Sequence[Seat], setting: Setting, turns: Mapping[int, float], order: Iterable[int]
) -> Pass:
    """Place lights in an order; `turns` are those that some seats must have if they can."""
    occupied = Occupied(setting.ground.base, setting.ground.taken, setting.ground.tapes)
    given = len(occupied.names)
    placed: dict[int, Placed] = {}
    failed: dict[int, Unlit] = {}
    crowded: list[int] = []
    for i in order:
        pose, room = find(seats[i], i, setting, occupied, turns.get(i))
        if pose is None:
            every = every_turn(np.array(seats[i].at), seats[i].opening, setting)
            failed[i], worst = why_not(seats[i], every, setting.wish.light, room, occupied)
            crowded += [i] if worst >= given else []
            continue
        opening = seats[i].opening
        occupied.add(opening.name, pose.bodies[0], pose.plus[0], pose.minus[0])
        placed[i] = placed_at(opening, pose, 0, room, setting.wish)
    return Pass(placed, failed, tuple(crowded))


def placed_at(opening: Opening, found: Poses, k: int, room: Room, wish: Wish) -> Placed:
    """The light of pose k as it is told of."""
    x, y = found.centres[k].tolist()
    return Placed(
        kind=wish.kind,
        at=(x, y),
        angle_deg=float(found.turns[k]),
        opening=opening.name,
        number=opening.number,
        clearance=clearance(opening.clear, (x, y)),
        visible=lens_share(opening.clear, (x, y), wish.light.lens),
        room=room.name,
        across=room.tape is None,
    )
