"""Seat lights anew: turn a light and land both its sides so that bends beside it go away.

Tape turns most often right beside a light, where two small bends lead it round the light's other
pad. Often one bend on the pad does, with the light turned a little and the fold off the pad's
middle. Each try is a turn of the light, a place on each pad, and for each strip that comes in
whether it keeps its last bend.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from .board import Board
from .fermat import At
from .nets import Key, ring_segments
from .seats import (
    Seat,
    Side,
    arm_of,
    cheapest,
    cost_now,
    in_vain,
    least_cost,
    sit,
    still_covered,
)
from .segments import NONE, clear

if TYPE_CHECKING:
    from .bench import Bench


#: Turns (degrees) that are tried from where a light is.
TURNS = (0.0, 6.0, -6.0, 14.0, -14.0, 26.0, -26.0, 42.0, -42.0, 65.0, -65.0)

#: How far from a pad's middle a fold may lie (mm).
OFF = (0.0, 0.8, 1.6, 2.3)

#: These as steps from the middle (mm): the middle, then rings of eight.
ROUND = (
    (0.0, 0.0),
    *(
        (off * math.cos(turn), off * math.sin(turn))
        for off in OFF[1:]
        for k in range(8)
        for turn in [k * math.pi / 4.0 + (math.pi / 8.0 if off == OFF[2] else 0.0)]
    ),
)

#: Gains below this are none (mm).
LEAST = 0.05


def reseat(polisher: Bench, i: int) -> bool:
    """The cheapest seat of a light, should one be cheaper than what it has."""
    board = polisher.board
    sides = _sides(polisher, i)
    if sides is None or in_vain(polisher, i, sides):
        return False
    before = sum(cost_now(polisher, side) for side in sides)
    best: tuple[float, float, list[Seat]] | None = None
    for angle in _angles(board, i):
        found = _seated(polisher, i, sides, angle, before if best is None else best[0])
        if found is not None:
            best = (found[0], angle, found[1])
    if best is None:
        return False
    kept = [(side.net, polisher.tree(side.net).copy()) for side in sides]
    old = board.angles[i]
    board.angles[i] = best[1]
    for side, seat in zip(sides, best[2], strict=True):
        sit(polisher, side, seat)
    board.changed()
    if all(still_covered(polisher, side) for side in sides):
        return True
    board.angles[i] = old
    for net, tree in kept:
        polisher.tree(net).restore(tree)
    board.changed()
    return False


def _angles(board: Board, i: int) -> list[float]:
    turn, here = board.task.lights[i].turn, board.angles[i]
    if turn == "locked":
        return [here]
    turns = [45.0 * k for k in (0, 1, -1, 2, -2)] if turn == "45" else TURNS
    return [(here + by) % 360.0 for by in turns]


def _sides(polisher: Bench, i: int) -> list[Side] | None:
    """Both pads of a light; None where one is not to be moved."""
    board, found = polisher.board, []
    keys: list[Key] = [("light", i, "positive"), ("light", i, "negative")]
    nodes = {}
    for key in keys:
        tree = polisher.tree(board.net_of[key])
        node = tree.pad_node[key]
        near = tree.links[node]
        if node in tree.fixed or not near or len(near) > 3:
            return None
        nodes[board.net_of[key]] = node
    for key in keys:
        net = board.net_of[key]
        tree, node = polisher.tree(net), nodes[net]
        arms = tuple(arm_of(polisher, net, node, n) for n in sorted(tree.links[node]))
        rows, apart, tape = _fence(board, net, i, nodes)
        found.append(Side(key, net, node, arms, rows, apart, tape))
    return found


def _fence(
    board: Board, net: int, i: int, nodes: dict[int, int]
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """What a net keeps off: other tape but that at the light's pads, other lights' pads.

    Third: of these, the tape alone.
    """
    rows, apart, room = [NONE], [np.zeros(0)], board.room
    for n, tree in enumerate(board.trees):
        if n == net or tree is None:
            continue
        skip = nodes.get(n)
        links = [(*tree.at[a], *tree.at[b]) for a, b in tree.edges() if skip not in {a, b}]
        if links:
            rows.append(np.array(links))
            apart.append(np.full(len(links), 2.0 * room.half + room.gap))
    tape = np.concatenate(rows)
    for key, n in board.net_of.items():
        if n != net and key[0] == "light" and key[1] != i:
            sides = board.ring(key)
            rows.append(sides)
            apart.append(np.full(len(sides), room.half + board.pad_gap(key)))
    return np.concatenate(rows), np.concatenate(apart), tape


def _seated(
    polisher: Bench, i: int, sides: list[Side], angle: float, limit: float
) -> tuple[float, list[Seat]] | None:
    """Seats of both sides at an angle that together cost less than the limit."""
    board = polisher.board
    pads = board.light_pads(i, angle)
    if not all(_pad_clear(board, side, pads) for side in sides):
        return None
    alone: list[list[Seat]] = []
    for k in (0, 1):
        # what the other side costs at least is not left for this one
        rest = alone[0][0].cost if k else _least_cost(polisher, sides[1], pads)
        alone.append(_seats(polisher, sides[k], angle, (sides[1 - k], None), limit - LEAST - rest))
        if not alone[k]:
            return None
    found: tuple[float, list[Seat]] | None = None
    for first in (0, 1):
        two = sides[1 - first]
        for seat in alone[first][:2]:
            theirs = _seats(polisher, two, angle, (sides[first], seat), limit - seat.cost)
            if theirs and seat.cost + theirs[0].cost < limit - LEAST:
                limit = seat.cost + theirs[0].cost
                found = (limit, [seat, theirs[0]] if first == 0 else [theirs[0], seat])
                break
    return found


def _pad_clear(board: Board, side: Side, pads: dict[str, np.ndarray]) -> bool:
    """Whether a turned pad keeps off the other sides' tape."""
    apart = np.full(len(side.tape), board.room.half + board.pad_gap(side.key))
    return clear(ring_segments(pads[side.key[2]]), side.tape, apart)


def _seats(
    polisher: Bench,
    side: Side,
    angle: float,
    other: tuple[Side, Seat | None],
    limit: float,
) -> list[Seat]:
    """Legal seats of a pad below a cost that cover it, cheapest first (two at most)."""
    pads = polisher.board.light_pads(side.key[1], angle)
    places = _places(polisher, side, pads)
    seats = cheapest(polisher, side, places, _with_other(polisher, side, pads, other), limit)
    return _covering(polisher, side, angle, seats)


def _covering(polisher: Bench, side: Side, angle: float, seats: list[Seat]) -> list[Seat]:
    """The first two seats whose tape covers the pad well enough."""
    board, tree = polisher.board, polisher.tree(side.net)
    needed = polisher.needed(side.key, len(side.arms))
    good: list[Seat] = []
    for seat in seats:
        around = [tree.at[e] for e in seat.ends]
        if board.covered(side.key, angle, seat.at, around) >= needed - 1e-4:
            good.append(seat)
            if len(good) == 2:
                break
    return good


def _with_other(
    polisher: Bench, side: Side, pads: dict[str, np.ndarray], other: tuple[Side, Seat | None]
) -> tuple[np.ndarray, np.ndarray]:
    """The fence with the light's other pad, and its tape where that is seated."""
    board, room = polisher.board, polisher.board.room
    theirs, seat = other
    ring = ring_segments(pads[theirs.key[2]])
    rows, apart = [side.rows, ring], [side.apart]
    apart.append(np.full(len(ring), room.half + board.pad_gap(theirs.key)))
    if seat is not None:
        tree = polisher.tree(theirs.net)
        links = np.array([(*seat.at, *tree.at[e]) for e in seat.ends])
        rows.append(links)
        apart.append(np.full(len(links), 2.0 * room.half + room.gap))
    return np.concatenate(rows), np.concatenate(apart)


def _least_cost(polisher: Bench, side: Side, pads: dict[str, np.ndarray]) -> float:
    """What no seat of a pad costs less than."""
    return least_cost(polisher, side, _places(polisher, side, pads))


def _places(polisher: Bench, side: Side, pads: dict[str, np.ndarray]) -> np.ndarray:
    """Places on and beside a pad: its middle, rings round it, as it is."""
    tree, corners = polisher.tree(side.net), pads[side.key[2]]
    near = [tree.at[arm.next] for arm in side.arms]
    x, y = corners.mean(axis=0).tolist()
    places = [(x + dx, y + dy) for dx, dy in ROUND]
    here = tree.at[side.node]
    if math.dist(here, (x, y)) < 3.2:
        places.append(here)
    for k, a in enumerate(near):
        for b in near[k + 1 :]:
            places.append(_towards((x, y), a, b))
    return np.array(places)


def _towards(p: At, a: At, b: At) -> At:
    """The place on a-b nearest to p, no farther than a fold may lie off."""
    wx, wy = b[0] - a[0], b[1] - a[1]
    size = wx * wx + wy * wy or 1.0
    t = min(max(((p[0] - a[0]) * wx + (p[1] - a[1]) * wy) / size, 0.0), 1.0)
    foot = (a[0] + t * wx, a[1] + t * wy)
    far = math.dist(p, foot)
    if far <= OFF[-1]:
        return foot
    return (p[0] + (foot[0] - p[0]) * OFF[-1] / far, p[1] + (foot[1] - p[1]) * OFF[-1] / far)
