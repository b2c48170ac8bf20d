"""Seat lights anew: turn a light and land both its sides so that bends beside it go away.

Tape turns most often right beside a light, where two small bends lead it round the light's other
pad. Often one bend on the pad does, with the light turned a little and the fold off the pad's
middle. Each try is a turn of the light, a place on each pad, and for each strip that comes in
whether it keeps its last bend; all places of one pad are tested at once.
"""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

import numpy as np
import shapely

from ..records import record
from .board import Board, Key, Tree, ring_segments
from .cover import share
from .fermat import At
from .segments import NONE, clear, distances
from .strips import goes_on, is_straight

if TYPE_CHECKING:
    from .bench import Bench


#: Turns (degrees) that are tried from where a light is.
TURNS = (0.0, 6.0, -6.0, 14.0, -14.0, 26.0, -26.0, 42.0, -42.0, 65.0, -65.0)

#: How far from a pad's middle a fold may lie (mm).
OFF = (0.0, 0.8, 1.6, 2.3)

#: Gains below this are none (mm).
LEAST = 0.05

#: A free node is not moved farther than this (mm).
FAR = 40.0

#: Junctions with more arms are left as they are.
MOST_ARMS = 4

#: Seats of a pad that are looked at more closely, cheapest first.
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
    """One pad of a light with its arms, and what its tape keeps off, the light's own left out."""

    key: Key
    net: int
    node: int
    arms: tuple[Arm, ...]
    rows: np.ndarray
    apart: np.ndarray
    tape: np.ndarray


def reseat(polisher: Bench, i: int) -> bool:
    """The cheapest seat of a light, should one be cheaper than what it has."""
    board = polisher.board
    sides = _sides(polisher, i)
    if sides is None or _in_vain(polisher, i, sides):
        return False
    before = sum(_cost(polisher, side) for side in sides)
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
        _sit(polisher, side, seat)
    board.changed()
    if all(_still_covered(polisher, side) for side in sides):
        return True
    board.angles[i] = old
    for net, tree in kept:
        polisher.tree(net).restore(tree)
    board.changed()
    return False


def resettle(polisher: Bench, net: int, node: int) -> bool:
    """The cheapest place of a free bend or junction, bends beside it left out where they can be."""
    tree = polisher.tree(net)
    near = sorted(tree.links[node])
    if not 2 <= len(near) <= MOST_ARMS or any(tree.is_pinned(node, n) for n in near):
        return False
    arms = tuple(_arm(polisher, net, node, n) for n in near)
    fence = polisher.board.fence(net)
    side = Side(("free", node, ""), net, node, arms, *fence, NONE)
    if _in_vain(polisher, -1, [side]):
        return False
    limit = _cost(polisher, side) - LEAST
    places = _free_places(tree, side)
    for seat in _cheapest(polisher, side, places, fence, limit)[:LOOKED_AT]:
        kept = tree.copy()
        _sit(polisher, side, seat)
        polisher.board.changed(net)
        if _still_covered(polisher, side):
            return True
        tree.restore(kept)
        polisher.board.changed(net)
    return False


def _free_places(tree: Tree, side: Side) -> np.ndarray:
    """Where arms would meet, were they drawn on or left out; along each; and round the node."""
    here = tree.at[side.node]
    places = [here]
    lines: list[tuple[At, At]] = []
    for arm in side.arms:
        end = tree.at[arm.next]
        lines += [(end, tree.at[n]) for n in sorted(tree.links[arm.next]) if n != side.node]
        lines.append((end, here))
        ends = [end] if arm.behind is None else [end, tree.at[arm.behind]]
        places += [_between(here, e, part) for e in ends for part in (0.25, 0.5, 0.75)]
        places += ends
    for k, (a, b) in enumerate(lines):
        for c, d in lines[k + 1 :]:
            at = _crossing(a, b, c, d)
            if at is not None and math.dist(at, here) < FAR:
                places.append(at)
    for off in (2.0, 6.0):
        for k in range(8):
            turn = k * math.pi / 4.0
            places.append((here[0] + off * math.cos(turn), here[1] + off * math.sin(turn)))
    return np.array(places)


def _between(a: At, b: At, part: float) -> At:
    return (a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1]))


def _crossing(a: At, b: At, c: At, d: At) -> At | None:
    """Where the lines a-b and c-d meet, however far they are drawn on."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    cross = ux * vy - uy * vx
    if abs(cross) < 1e-3 * (math.hypot(ux, uy) * math.hypot(vx, vy) + 1e-9):
        return None
    s = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / cross
    return (a[0] + s * ux, a[1] + s * uy)


def _in_vain(polisher: Bench, i: int, sides: list[Side]) -> bool:
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
        arms = tuple(_arm(polisher, net, node, n) for n in sorted(tree.links[node]))
        rows, apart, tape = _fence(board, net, i, nodes)
        found.append(Side(key, net, node, arms, rows, apart, tape))
    return found


def _arm(polisher: Bench, net: int, node: int, near: int) -> Arm:
    tree = polisher.tree(net)
    if near in polisher.pad_at[net] or near in tree.fixed or len(tree.links[near]) != 2:
        return Arm(near, None)
    (behind,) = tree.links[near] - {node}
    return Arm(near, behind)


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
            sides = ring_segments(board.corners(key))
            rows.append(sides)
            apart.append(np.full(len(sides), room.half + board.pad_gap(key)))
    return np.concatenate(rows), np.concatenate(apart), tape


def _cost(polisher: Bench, side: Side) -> float:
    """What the links at a pad cost now, bends beside it included."""
    tree = polisher.tree(side.net)
    return _cost_of(polisher, side, tree.at[side.node], tuple(arm.next for arm in side.arms))


def _cost_of(polisher: Bench, side: Side, at: At, ends: tuple[int, ...]) -> float:
    """Length and runs of a pad's links, were its node there with these links."""
    tree = polisher.tree(side.net)
    total, straight, rows = 0.0, 0, []
    ways = []
    for arm, end in zip(side.arms, ends, strict=True):
        here = tree.at[end]
        rows.append((*at, *here))
        total += math.dist(at, here)
        beyond = [n for n in tree.links[end] if n not in {side.node, arm.next}]
        if arm.behind is not None and end == arm.next:
            far = tree.at[arm.behind]
            rows.append((*here, *far))
            total += math.dist(here, far) + polisher.prices.run
            straight += goes_on(at, here, far)
            after = [n for n in tree.links[arm.behind] if n != arm.next]
            straight += any(is_straight(tree, arm.next, arm.behind, n) for n in after)
        else:
            straight += any(goes_on(at, here, tree.at[n]) for n in beyond)
        ways.append(here)
    straight += any(goes_on(a, at, b) for k, a in enumerate(ways) for b in ways[k + 1 :])
    if len(polisher.board.windows.areas):
        total += float(polisher.board.windows.price(np.array(rows)).sum())
    return total - polisher.prices.run * straight


def _seated(
    polisher: Bench, i: int, sides: list[Side], angle: float, limit: float
) -> tuple[float, list[Seat]] | None:
    """Seats of both sides at an angle that together cost less than the limit."""
    board = polisher.board
    pads = board.light_pads(i, angle)
    if not all(_pad_clear(board, side, pads) for side in sides):
        return None
    alone = [_seats(polisher, sides[k], pads, (sides[1 - k], None), limit) for k in (0, 1)]
    if not all(alone) or alone[0][0].cost + alone[1][0].cost >= limit - LEAST:
        return None
    found: tuple[float, list[Seat]] | None = None
    for first in (0, 1):
        two = sides[1 - first]
        for seat in alone[first][:2]:
            theirs = _seats(polisher, two, pads, (sides[first], seat), limit - seat.cost)
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
    pads: dict[str, np.ndarray],
    other: tuple[Side, Seat | None],
    limit: float,
) -> list[Seat]:
    """Legal seats of a pad below a cost that cover it, cheapest first (two at most)."""
    tree, corners = polisher.tree(side.net), pads[side.key[2]]
    places = _places(corners, [tree.at[a.next] for a in side.arms], side, tree)
    seats = _cheapest(polisher, side, places, _with_other(polisher, side, pads, other), limit)
    return _covering(polisher, side, corners, seats[:LOOKED_AT])


def _cheapest(
    polisher: Bench,
    side: Side,
    places: np.ndarray,
    fence: tuple[np.ndarray, np.ndarray],
    limit: float,
) -> list[Seat]:
    """Legal seats of a node at any of the places below a cost, cheapest first."""
    tree = polisher.tree(side.net)
    ways = [(k, e) for k, arm in enumerate(side.arms) for e in _ends(arm)]
    goals = np.array([tree.at[e] for _, e in ways])
    lines = np.concatenate(
        [np.repeat(places, len(ways), axis=0), np.tile(goals, (len(places), 1))], axis=1
    )
    legal = legal_each(polisher.board, side.net, lines, *fence).reshape(len(places), len(ways))
    seats: list[Seat] = []
    for number in _worth_it(polisher, side, ways, lines, legal, limit):
        x, y = places[number].tolist()
        choices: list[list[int]] = [[] for _ in side.arms]
        for j in np.flatnonzero(legal[number]).tolist():
            choices[ways[j][0]].append(ways[j][1])
        for ends in itertools.product(*choices):
            cost = _cost_of(polisher, side, (x, y), ends)
            if cost < limit:
                seats.append(Seat(cost, (x, y), ends))
    seats.sort(key=lambda s: (s.cost, s.at))
    return seats


def _ends(arm: Arm) -> tuple[int, ...]:
    return (arm.next,) if arm.behind is None else (arm.next, arm.behind)


def _worth_it(
    polisher: Bench,
    side: Side,
    ways: list[tuple[int, int]],
    lines: np.ndarray,
    legal: np.ndarray,
    limit: float,
) -> list[int]:
    """Places where every arm has a legal way and the cost may be below the limit."""
    tree, run = polisher.tree(side.net), polisher.prices.run
    size = np.hypot(lines[:, 0] - lines[:, 2], lines[:, 1] - lines[:, 3]).reshape(legal.shape)
    for j, (k, end) in enumerate(ways):
        behind = side.arms[k].behind
        if behind is not None and end == side.arms[k].next:
            size[:, j] += math.dist(tree.at[end], tree.at[behind]) + run
    size = np.where(legal, size, np.inf)
    arm_of = np.array([k for k, _ in ways])
    least = sum(size[:, arm_of == k].min(axis=1) for k in range(len(side.arms)))
    most = run * (1 + 2 * len(side.arms))
    found: list[int] = np.flatnonzero(np.asarray(least) - most < limit).tolist()
    return found


def _covering(polisher: Bench, side: Side, corners: np.ndarray, seats: list[Seat]) -> list[Seat]:
    """The first two seats whose tape covers the pad well enough."""
    board, tree = polisher.board, polisher.tree(side.net)
    pad = shapely.Polygon(corners)
    needed = polisher.needed(side.key, len(side.arms))
    half, folded = board.task.limits.width / 2.0, board.task.choices.corners == "fold"
    good: list[Seat] = []
    for seat in seats:
        around = [tree.at[e] for e in seat.ends]
        if share(pad, seat.at, around, half, folded) >= needed - 1e-4:
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


def _places(corners: np.ndarray, near: list[At], side: Side, tree: Tree) -> np.ndarray:
    """Places on and beside a pad: its middle, rings round it, as it is."""
    x, y = corners.mean(axis=0).tolist()
    places = [(x, y)]
    for off in OFF[1:]:
        for k in range(8):
            turn = k * math.pi / 4.0 + (math.pi / 8.0 if off == OFF[2] else 0.0)
            places.append((x + off * math.cos(turn), y + off * math.sin(turn)))
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


def _sit(polisher: Bench, side: Side, seat: Seat) -> None:
    tree = polisher.tree(side.net)
    tree.at[side.node] = seat.at
    for arm, end in zip(side.arms, seat.ends, strict=True):
        if end != arm.next:
            tree.drop(arm.next)
            tree.link(side.node, end)


def _still_covered(polisher: Bench, side: Side) -> bool:
    """Whether the pads that the links lead to are still covered."""
    tree = polisher.tree(side.net)
    return polisher.covered(side.net, [side.node, *sorted(tree.links[side.node])])
