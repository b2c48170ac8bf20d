"""Turns of several lights that stand close together, chosen at one time.

Where lights one after another leave no room for the last, their turns are searched together:
every pair of turns of two lights is judged once, then a depth-first search takes the light with
fewest turns left and tries its cheapest turn first, striking out what no longer goes with it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely

from .figures import Poses
from .room import Room

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Allowed = NDArray[np.bool_]

#: More lights than this in one group are not searched together.
LARGEST_GROUP = 16

#: The search gives up after so many tries.
TRIES = 4000


def groups(places: Floats, near: float) -> list[list[int]]:
    """Places in groups: in one group each is nearer than `near` (mm) to some other one."""
    apart = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1)) < near
    left = set(range(len(places)))
    found = []
    while left:
        group, fresh = set(), {min(left)}
        while fresh:
            group |= fresh
            fresh = {int(j) for i in fresh for j in np.flatnonzero(apart[i])} - group
        left -= group
        found.append(sorted(group))
    return found


def turns_together(every: Sequence[Poses], cost: Sequence[Floats], room: Room) -> list[int] | None:
    """One turn for each light such that all have room, as indices into its poses; None without.

    `every` are the turns that each light may have where it stands, `cost` what each would cost.
    """
    n = len(every)
    together = {
        (a, b): _together(every[a], every[b], room) for a in range(n) for b in range(a + 1, n)
    }
    together |= {(b, a): table.T for (a, b), table in together.items()}
    order = [np.argsort(one, kind="stable") for one in cost]
    left = [np.ones(len(one), dtype=bool) for one in every]
    chosen: dict[int, int] = {}
    tries = [TRIES]
    if not _search(left, chosen, order, together, tries):
        return None
    return [chosen[i] for i in range(n)]


def _search(
    left: Sequence[Allowed],
    chosen: dict[int, int],
    order: Sequence[np.ndarray],
    together: Mapping[tuple[int, int], Allowed],
    tries: list[int],
) -> bool:
    open_ones = [i for i in range(len(left)) if i not in chosen]
    if not open_ones:
        return True
    i = min(open_ones, key=lambda i: (int(left[i].sum()), i))
    for turn in order[i]:
        if not left[i][turn]:
            continue
        tries[0] -= 1
        if tries[0] < 0:
            return False
        chosen[i] = int(turn)
        rest = [one if j in chosen else one & together[i, j][turn] for j, one in enumerate(left)]
        alive = all(one.any() for one in rest)
        if alive and _search(rest, chosen, order, together, tries):
            return True
        del chosen[i]
    return False


def _together(a: Poses, b: Poses, room: Room) -> Allowed:
    """(ka, kb) whether two lights have room beside each other in each pair of turns."""

    def gap(one: np.ndarray, other: np.ndarray) -> Floats:
        return np.asarray(shapely.distance(one[:, None], other[None, :]))

    fine = gap(a.bodies, b.bodies) >= room.bodies
    fine &= (gap(a.plus, b.minus) >= room.feet) & (gap(a.minus, b.plus) >= room.feet)
    if room.every_foot:
        fine &= (gap(a.plus, b.plus) >= room.feet) & (gap(a.minus, b.minus) >= room.feet)
    return np.asarray(fine)
