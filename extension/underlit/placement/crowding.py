"""Lights under openings, as many as were asked for, or as many as there is room for and why.

Where an opening was to have several and some found no room, its lights are placed anew: in rows,
then spread with one more than that, and what room is left is filled. What then keeps one more away
is told with figures.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ..model.card import Opening
from ..profiles import Limits
from .brightness import Illuminance, lambertian
from .explaining import why_not
from .figures import poses
from .fitting import Setting, every_turn, find
from .outcome import Ground, Placed, Placement, Taken, Unlit, Wish, unlit
from .placing import Hands, place_once, placed_at, setting_for
from .room import Occupied
from .rows import in_rows
from .seating import Seat, next_best

#: Height of the panel above the lenses where nobody says otherwise (mm): 6 mm of settled foam less
#: the light's own height.
DEPTH = 4.1

#: How often one light more is tried, and up to how many lights in one opening.
TRIES = 3
FEW = 20


def place_lights(
    openings: Sequence[Opening],
    ground: Ground,
    wish: Wish,
    limits: Limits,
    tape: float,
    illuminance: Illuminance | None = None,
) -> Placement:
    """Lights for the chosen openings; `tape` is the width of the tape (mm).

    `illuminance` judges where several lights go (default: Lambertian at `DEPTH`). Lights come in
    the order of their openings, several of one opening from top to bottom.
    """
    field = illuminance or lambertian(DEPTH, wish.light.beam_angle)
    hands = Hands(limits, tape)
    once = place_once(openings, ground, wish, hands, field)
    lights = {o.name: tuple(x for x in once.lights if x.opening == o.name) for o in openings}
    dark = {one.opening: one for one in once.dark}
    for opening in openings:
        name, n = opening.name, once.wanted.get(opening.name, 0)
        if n < 2 or len(lights[name]) >= n:
            continue
        others = [x for other, own in lights.items() if other != name for x in own]
        around = replace(ground, taken=(*ground.taken, *(_taken(x, wish) for x in others)))
        lights[name], why = _as_many(opening, n, lights[name], around, wish, hands, field)
        told = _told(opening, n, len(lights[name]), why, dark.pop(name, None), wish)
        dark |= {} if told is None else {name: told}
    _judge_again(openings, lights, dark, ground, wish, hands)
    return Placement(
        tuple(x for opening in openings for x in lights[opening.name]),
        tuple(dark[opening.name] for opening in openings if opening.name in dark),
        once.proposed,
        wish.most if once.proposed is not None else None,
    )


def _judge_again(
    openings: Sequence[Opening],
    lights: dict[str, tuple[Placed, ...]],
    dark: dict[str, Unlit],
    ground: Ground,
    wish: Wish,
    hands: Hands,
) -> None:
    """Openings without a light for lack of room, looked at once more when all others have theirs.

    What is said then holds for the card as it is drawn, and a second run says the same.
    """
    for opening in openings:
        one = dark.get(opening.name)
        if one is None or one.reason not in {"no-room", "off-base"}:
            continue
        placed = tuple(_taken(light, wish) for own in lights.values() for light in own)
        around = replace(ground, taken=(*ground.taken, *placed))
        found: list[Placed] = []
        seat = Seat(opening, one.at)
        why = _fill(opening, 1, found, setting_for(around, wish, hands, (seat,)), seat)
        if found:
            lights[opening.name] = tuple(found)
            del dark[opening.name]
        elif why is not None:
            dark[opening.name] = why


def _told(
    opening: Opening, n: int, got: int, why: Unlit | None, before: Unlit | None, wish: Wish
) -> Unlit | None:
    """What is said of an opening that was to have n lights and got some.

    Nothing where nobody asked for a number: several were only proposed.
    """
    if got == 0:
        return before or why
    if why is None or wish.count is None:
        return None
    fewer = unlit(opening, "fewer", got, n, why.at, why.blocker)
    return replace(fewer, because=why)


def _taken(light: Placed, wish: Wish) -> Taken:
    """A light that was placed as room that is taken."""
    pose = poses(wish.light, np.array([light.at]), np.array([light.angle_deg]))
    return Taken(light.opening, pose.bodies[0], pose.plus[0], pose.minus[0])


def _as_many(
    opening: Opening,
    n: int,
    got: Sequence[Placed],
    ground: Ground,
    wish: Wish,
    hands: Hands,
    field: Illuminance,
) -> tuple[tuple[Placed, ...], Unlit | None]:
    """Up to n lights of one opening, and what is in the way of one more (None: all are there)."""
    setting = setting_for(ground, wish, hands, ())
    found, room = in_rows(
        opening, n, setting, Occupied(ground.base, ground.taken, ground.tapes), field
    )
    best = list(got)
    if found is not None and len(found) > len(got):
        best = [placed_at(opening, found, k, room, wish) for k in range(len(found))]
    for _ in range(TRIES):
        if len(best) >= min(n, FEW):
            break
        one_more = replace(wish, count=len(best) + 1)
        again = place_once((opening,), ground, one_more, hands, field).lights
        if len(again) <= len(best):
            break
        best = list(again)
    why = _fill(opening, n, best, setting)
    return tuple(sorted(best, key=lambda x: (round(x.at[1], 3), x.at[0]))), why


def _fill(
    opening: Opening, n: int, best: list[Placed], setting: Setting, first: Seat | None = None
) -> Unlit | None:
    """Add lights to `best` where there is still room; what is in the way of one more.

    With `first` that is told of this seat, else of where least is lacking.
    """
    wish = setting.wish
    taken = (*setting.ground.taken, *(_taken(light, wish) for light in best))
    occupied = Occupied(setting.ground.base, taken, setting.ground.tapes)
    seat = first or Seat(opening, best[0].at if best else opening.at)
    alone = replace(setting, across=(None,))
    while len(best) < n:
        pose, room = find(seat, 0, alone, occupied, None)
        if pose is None:
            if first is None:
                return _least_in_the_way(seat, setting, occupied)
            every = every_turn(np.array(seat.at), opening, setting)
            return why_not(seat, every, wish.light, setting.rooms[-1], occupied)[0]
        occupied.add(opening.name, pose.bodies[0], pose.plus[0], pose.minus[0])
        best.append(placed_at(opening, pose, 0, room, wish))
    return None


def _least_in_the_way(seat: Seat, setting: Setting, occupied: Occupied) -> Unlit:
    """Why one more light has no room at the place where it lacks least."""
    light, tight = setting.wish.light, setting.rooms[-1]
    reasons = []
    for place in [seat.at, *next_best(seat, light.lens).tolist()]:
        every = every_turn(np.array(place), seat.opening, setting)
        here = Seat(seat.opening, (place[0], place[1]))
        reasons.append(why_not(here, every, light, tight, occupied)[0])
    return min(reasons, key=lambda one: abs(one.needed - one.measured))
