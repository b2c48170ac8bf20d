"""Places for a node and its links, with what each costs: the cheapest that are legal.

A node has arms: its links, each with the bend behind where it has one. A seat is a place for the
node and, for each arm, whether it keeps its bend. All places are tested at once.
"""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import numpy as np
import shapely

from ..records import record
from .allowance import SEAT
from .board import Board
from .fermat import At
from .nets import Key
from .segments import distances
from .strips import FLAT, is_straight

if TYPE_CHECKING:
    from .bench import Bench


#: Seats that are looked at more closely, cheapest first.
LOOKED_AT = 6


@record
class Arm:
    """One link that leaves a pad: its next node, and the one behind where that is a bend."""

    next: int
    behind: int | None


@record
class Seat:
    """A place for a pad's node and what each arm links to."""

    cost: float
    at: At
    ends: tuple[int, ...]


@record
class Side:
    """A node with its arms, and what its tape keeps off (at a light: its own pads left out)."""

    key: Key
    net: int
    node: int
    arms: tuple[Arm, ...]
    rows: np.ndarray
    apart: np.ndarray
    tape: np.ndarray


def arm_of(polisher: Bench, net: int, node: int, near: int) -> Arm:
    """The link from a node to a neighbour as an arm."""
    tree = polisher.tree(net)
    if near in polisher.pad_at[net] or near in tree.fixed or len(tree.links[near]) != 2:
        return Arm(near, None)
    (behind,) = tree.links[near] - {node}
    return Arm(near, behind)


def in_vain(polisher: Bench, i: int, sides: list[Side]) -> bool:
    """Whether this was tried before with the light and its links as they are."""
    places: list[object] = ["reseat", i, polisher.board.angles[i] if i >= 0 else 0.0]
    for side in sides:
        at = polisher.tree(side.net).at
        places += [at[side.node], *(at[a.next] for a in side.arms)]
        places += [at[a.behind] for a in side.arms if a.behind is not None]
    mark = tuple(places)
    if mark in polisher.calm:
        return True
    polisher.calm.add(mark)
    return False


def cost_now(polisher: Bench, side: Side) -> float:
    """What the links at a node cost now, bends beside it included (mm)."""
    here = np.array([polisher.tree(side.net).at[side.node]])
    ways = ways_of(side)
    now = tuple(ways.index((k, arm.next)) for k, arm in enumerate(side.arms))
    cost = _with_pairs(polisher, side, here, way_costs(polisher, side, here), now)
    return float((cost + _in_openings(polisher, side, here, now))[0])


def ways_of(side: Side) -> list[tuple[int, int]]:
    """What each arm may link to: (number of the arm, node)."""
    return [
        (k, end)
        for k, arm in enumerate(side.arms)
        for end in ((arm.next,) if arm.behind is None else (arm.next, arm.behind))
    ]


def way_costs(polisher: Bench, side: Side, places: np.ndarray) -> np.ndarray:
    """(n, ways) length of each way from each place, less what straight ways save in runs (mm)."""
    tree, run = polisher.tree(side.net), polisher.prices.run
    columns = []
    for k, end in ways_of(side):
        arm, here = side.arms[k], np.array(tree.at[end])
        way = here - places
        cost = np.hypot(way[:, 0], way[:, 1])
        ahead = [n for n in sorted(tree.links[end]) if n not in {side.node, arm.next}]
        if arm.behind is not None and end == arm.next:
            after = [n for n in tree.links[arm.behind] if n != arm.next]
            kept = any(is_straight(tree, arm.next, arm.behind, n) for n in after)
            cost += math.dist(tree.at[end], tree.at[arm.behind]) + run - run * kept
            ahead = [arm.behind]
        straight = np.zeros(len(places), dtype=bool)
        for n in ahead:
            straight |= _go_on(way, np.array(tree.at[n]) - here)
        columns.append(cost - run * straight)
    return np.stack(columns, axis=1)


def _go_on(first: np.ndarray, then: np.ndarray) -> np.ndarray:
    """(n,) whether a step (n, 2) goes on straight in the next (2,) or (n, 2)."""
    ahead = first[:, 0] * then[..., 0] + first[:, 1] * then[..., 1]
    across = first[:, 0] * then[..., 1] - first[:, 1] * then[..., 0]
    straight: np.ndarray = (ahead > 0.0) & (np.abs(across) <= FLAT * ahead)
    return straight


def _with_pairs(
    polisher: Bench, side: Side, places: np.ndarray, costs: np.ndarray, chosen: tuple[int, ...]
) -> np.ndarray:
    """(n,) cost of the chosen ways together: two that go straight through the node save a run."""
    at, ways = polisher.tree(side.net).at, ways_of(side)
    ends = [np.array(at[ways[j][1]]) for j in chosen]
    straight = np.zeros(len(places), dtype=bool)
    for a, b in itertools.combinations(ends, 2):
        straight |= _go_on(places - a, b - places)
    total: np.ndarray = costs[:, chosen].sum(axis=1) - polisher.prices.run * straight
    return total


def _in_openings(
    polisher: Bench, side: Side, places: np.ndarray, chosen: tuple[int, ...]
) -> np.ndarray:
    """(n,) what the chosen ways cost for what of them lies in openings (mm)."""
    total, windows = np.zeros(len(places)), polisher.board.windows
    if not len(windows.areas) or not len(places):
        return total
    at, ways = polisher.tree(side.net).at, ways_of(side)
    for k, end in (ways[j] for j in chosen):
        total += windows.price(np.concatenate([places, np.full_like(places, at[end])], axis=1))
        behind = side.arms[k].behind
        if behind is not None and end == side.arms[k].next:
            total += windows.together([(*at[end], *at[behind])])
    return total


def least_cost(polisher: Bench, side: Side, places: np.ndarray) -> float:
    """What no seat at any of the places costs less than (mm)."""
    return float(_at_least(polisher, side, way_costs(polisher, side, places)).min())


def _at_least(polisher: Bench, side: Side, costs: np.ndarray) -> np.ndarray:
    """(n,) the cheapest way of each arm together, two of them straight on."""
    arm_of_way = np.array([k for k, _ in ways_of(side)])
    least = [costs[:, arm_of_way == k].min(axis=1) for k in range(len(side.arms))]
    total: np.ndarray = np.sum(least, axis=0) - polisher.prices.run
    return total


def cheapest(
    polisher: Bench,
    side: Side,
    places: np.ndarray,
    fence: tuple[np.ndarray, np.ndarray],
    limit: float,
) -> list[Seat]:
    """Legal seats of a node at any of the places below a cost, the cheapest few, in order."""
    polisher.out.spend(SEAT)
    costs = way_costs(polisher, side, places)
    worth_it = _at_least(polisher, side, costs) < limit
    places, costs = places[worth_it], costs[worth_it]
    if not len(places):
        return []
    tree, ways = polisher.tree(side.net), ways_of(side)
    goals = np.array([tree.at[end] for _, end in ways])
    lines = np.concatenate(
        [np.repeat(places, len(ways), axis=0), np.tile(goals, (len(places), 1))], axis=1
    )
    legal = legal_each(polisher.board, side.net, lines, *fence).reshape(len(places), len(ways))
    seats: list[Seat] = []
    of_arms = [[j for j, (k, _) in enumerate(ways) if k == arm] for arm in range(len(side.arms))]
    for chosen in itertools.product(*of_arms):
        total = _with_pairs(polisher, side, places, costs, chosen)
        left = np.flatnonzero(legal[:, chosen].all(axis=1) & (total < limit))
        total = total[left] + _in_openings(polisher, side, places[left], chosen)
        ends = tuple(ways[j][1] for j in chosen)
        for k in np.argsort(total, kind="stable")[:LOOKED_AT].tolist():
            if total[k] < limit:
                x, y = places[left[k]].tolist()
                seats.append(Seat(float(total[k]), (x, y), ends))
    seats.sort(key=lambda s: (s.cost, s.at))
    return seats[:LOOKED_AT]


def legal_each(
    board: Board, net: int, lines: np.ndarray, rows: np.ndarray, apart: np.ndarray
) -> np.ndarray:
    """(k,) whether each centre line keeps all distances."""
    low = np.minimum(lines[:, :2], lines[:, 2:]).min(axis=0)
    high = np.maximum(lines[:, :2], lines[:, 2:]).max(axis=0)
    near = (np.minimum(rows[:, :2], rows[:, 2:]) < high + apart[:, None]).all(axis=1)
    near &= (np.maximum(rows[:, :2], rows[:, 2:]) > low - apart[:, None]).all(axis=1)
    good = np.hypot(lines[:, 0] - lines[:, 2], lines[:, 1] - lines[:, 3]) >= 0.5
    if near.any():
        good &= (distances(lines, rows[near]) >= apart[near][None, :] - 1e-9).all(axis=1)
    if board.folds.lines:
        good &= board.folds.allowed(lines)
    left = np.flatnonzero(good)
    if len(left):
        made = shapely.linestrings(lines[left].reshape(-1, 2, 2))
        good[left] = shapely.covers(board.free[net], made)
    kept: np.ndarray = good
    return kept


def sit(polisher: Bench, side: Side, seat: Seat) -> None:
    """Move a node to its seat; bends that its arms leave out go."""
    tree = polisher.tree(side.net)
    tree.at[side.node] = seat.at
    for arm, end in zip(side.arms, seat.ends, strict=True):
        if end != arm.next:
            tree.drop(arm.next)
            tree.link(side.node, end)


def still_covered(polisher: Bench, side: Side) -> bool:
    """Whether the pads that the links lead to are still covered."""
    tree = polisher.tree(side.net)
    return polisher.covered(side.net, [side.node, *sorted(tree.links[side.node])])
