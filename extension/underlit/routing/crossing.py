"""Crossings over paper: where plus and minus may cross square with an insulating patch between.

Only for boards that have no way without. A gate is a short straight run of one side across a
straight run of the other (laid before, or pinned), far enough that all tape outside it keeps its
usual distances. Both runs stay where they are from then on, and the patch reaches the smallest
gap beyond the crossing on every side (drawing conventions, section 5).
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from itertools import chain, pairwise

import numpy as np
import shapely
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_along
from ..records import record
from .board import Board
from .free import WIDER, free_area
from .middles import middle_lines
from .task import Pinned
from .tree import Tree
from .weave import taken_by_pads

At = tuple[float, float]

#: Gates along a run (mm).
EVERY = 5.0

#: Both ends of a gate lie this much farther out than they must (mm).
MORE = 0.03

#: A patch keeps this far from the feet of parts (mm), and reaches this much farther than it must.
OFF_FEET = 0.3
SPARE = 0.02


@record
class Run:
    """A straight run of the other side: from `a` to `b`, half its width; a link or a pin."""

    a: At
    b: At
    half: float
    net: int | None = None
    link: tuple[int, int] | None = None
    pin: Pinned | None = None


@record
class Gate:
    """A way across a run from `p` to `q`, square; `at` is the crossing, `far` the way from it to
    where tape is free again along the run."""

    p: At
    q: At
    at: At
    far: float
    patch: Polygon
    run: Run


@record
class Crossing:
    """A crossing of a board: the patch, and the two nets (None for a pinned strip below)."""

    at: At
    patch: Polygon
    over: int
    under: int | None
    pin: str | None


def gates_of(board: Board, net: int) -> list[Gate]:
    """All gates that a net may use to cross tape of the other side."""
    ground = _ground(board, net)
    shapely.prepare(ground)
    shut = _no_paper(board, net)
    found = []
    for run in _runs(board, net):
        others = _bare(board, net, run)
        for gate in _along(board, run):
            line = LineString([gate.p, gate.q])
            if not ground.covers(line) or not board.task.base.covers(gate.patch):
                continue
            if gate.patch.intersects(shut) or _on_other_pins(board, run, gate.patch):
                continue
            apart = board.room.half + board.room.gap - 1e-3
            if others.difference(gate.patch).distance(line) < apart:
                continue
            if board.folds.lines and not _clear_of_folds(board, gate):
                continue
            found.append(gate)
    return found


def _runs(board: Board, net: int) -> list[Run]:
    """Straight runs of the other side: links of trees, runs of pinned strips."""
    side = board.nets[net].polarity
    found = []
    for n, tree in enumerate(board.trees):
        if tree is None or board.nets[n].polarity == side:
            continue
        for a, b in tree.edges():
            if not tree.is_pinned(a, b):
                found.append(Run(tree.at[a], tree.at[b], board.room.half, n, (a, b)))
    for pin in board.task.pinned:
        if pin.polarity not in {None, side}:
            for p, q in chain.from_iterable(pairwise(li.coords) for li in middle_lines(pin)):
                found.append(Run(p, q, max(pin.width / 2.0, 0.1), pin=pin))
    return found


def _along(board: Board, run: Run) -> list[Gate]:
    """Gates across a run, evenly along what of it is far enough from its ends."""
    length = math.dist(run.a, run.b)
    far = run.half + (board.room.half + board.room.gap) * WIDER + MORE
    if length < 2.0 * far:
        return []
    ux, uy = (run.b[0] - run.a[0]) / length, (run.b[1] - run.a[1]) / length
    count = max(1, math.ceil((length - 2.0 * far) / step_along(EVERY, length)) + 1)
    found = []
    for t in np.linspace(far, length - far, count).tolist():
        x, y = run.a[0] + t * ux, run.a[1] + t * uy
        p, q = (x - far * uy, y + far * ux), (x + far * uy, y - far * ux)
        found.append(Gate(p, q, (x, y), far, _patch(board, (x, y), (ux, uy), run.half), run))
    return found


def _patch(board: Board, at: At, way: At, half: float) -> Polygon:
    """Paper over a crossing: the margin beyond both strips on every side."""
    limits = board.task.limits
    more = max(limits.patch, limits.gap) + SPARE
    along, across = board.room.half + more, half + more
    x, y = at
    (ux, uy), corners = way, ((1, 1), (-1, 1), (-1, -1), (1, -1))
    return Polygon(
        [
            (x + i * along * ux - j * across * uy, y + i * along * uy + j * across * ux)
            for i, j in corners
        ]
    )


def _ground(board: Board, net: int) -> BaseGeometry:
    """Where a gate may run: as the net's tape, but pinned strips and trees are left out."""
    bare = dataclasses.replace(board.task, pinned=())
    free = free_area(bare, board.room, net, board.nets)
    taken = taken_by_pads(board, net)
    return free.difference(shapely.union_all(taken)) if taken else free


def _no_paper(board: Board, net: int) -> BaseGeometry:
    """What a patch keeps off: foreign windows, parts and their feet, wherever lights turn to."""
    task = board.task
    areas = [o.area.buffer(o.clearance) for o in task.obstacles if o.clearance >= 0.0]
    for i, light in enumerate(task.lights):
        pads = [light.positive, light.negative]
        if light.turn == "locked":
            areas += [board.pad(("light", i, p)).buffer(OFF_FEET) for p in ("positive", "negative")]
        else:
            reach = max(shapely.hausdorff_distance(Point(0, 0), pad) for pad in pads)
            areas.append(Point(light.at).buffer(reach + OFF_FEET))
    for cell in task.cells:
        areas += [cell.body, cell.positive.buffer(OFF_FEET), cell.negative.buffer(OFF_FEET)]
    for part in task.parts:
        areas += [part.body, part.first.buffer(OFF_FEET), part.second.buffer(OFF_FEET)]
    return shapely.union_all(areas)


def _bare(board: Board, net: int, run: Run) -> BaseGeometry:
    """All tape of the other side near a run."""
    side = board.nets[net].polarity
    areas = []
    for n, tree in enumerate(board.trees):
        if tree is not None and board.nets[n].polarity != side:
            lines = shapely.linestrings(tree.segments().reshape(-1, 2, 2))
            near = lines[shapely.distance(lines, LineString([run.a, run.b])) < 60.0]
            areas += list(shapely.buffer(near, board.room.half, quad_segs=4))
    areas += [p.area for p in board.task.pinned if p.polarity != side]
    return shapely.union_all(areas)


def _on_other_pins(board: Board, run: Run, patch: Polygon) -> bool:
    """Whether paper would come between pinned strips and tape that is to join them."""
    return any(p is not run.pin and p.area.intersects(patch) for p in board.task.pinned)


def _clear_of_folds(board: Board, gate: Gate) -> bool:
    allowed = bool(board.folds.allowed(np.array([(*gate.p, *gate.q)])).all())
    return allowed and all(gate.patch.distance(line) > 1.0 for line in board.folds.lines)


def cross(board: Board, net: int, tree: Tree, used: Sequence[tuple[Gate, int, int]]) -> bool:
    """Put crossings on a board: (gate, its nodes in the net's tree). False where two are too near.

    The gate's link and what it crosses are held in place.
    """
    crossings = list(board.crossings)
    for gate, p, q in used:
        run = gate.run
        if any(gate.patch.intersects(c.patch) for c in crossings):
            return False
        _hold(tree, p, q)
        if run.net is not None and run.link is not None:
            other = board.trees[run.net]
            assert other is not None
            if not _held_below(other, gate):
                return False
        name = run.pin.id if run.pin is not None else None
        crossings.append(Crossing(gate.at, gate.patch, net, run.net, name))
    board.crossings = tuple(crossings)
    return True


def _hold(tree: Tree, a: int, b: int) -> None:
    tree.fixed |= {a, b}
    tree.pinned.add((min(a, b), max(a, b)))
    tree.planned.add((min(a, b), max(a, b)))


def _held_below(tree: Tree, gate: Gate) -> bool:
    """Cut the crossed link in three and hold its middle; False where that part is held already."""
    x, y = gate.at
    for a, b in sorted(tree.edges()):
        run = LineString([tree.at[a], tree.at[b]])
        if run.distance(Point(x, y)) > 1e-6:
            continue
        far = run.project(Point(x, y))
        if far < gate.far - 1e-6 or run.length - far < gate.far - 1e-6 or tree.is_pinned(a, b):
            return False
        before = run.interpolate(far - gate.far)
        after = run.interpolate(far + gate.far)
        tree.unlink(a, b)
        u, v = tree.add((before.x, before.y)), tree.add((after.x, after.y))
        for i, j in ((a, u), (u, v), (v, b)):
            tree.link(i, j)
        _hold(tree, u, v)
        return True
    return False


def used_crossings(board: Board) -> list[Crossing]:
    """The crossings of a board where tape still runs both over and under the paper."""
    found = []
    for one in board.crossings:
        spot = Point(one.at)
        nets = [one.over] if one.under is None else [one.over, one.under]
        if all(_runs_through(board.trees[n], spot) for n in nets):
            found.append(one)
    return found


def _runs_through(tree: Tree | None, spot: Point) -> bool:
    if tree is None:
        return False
    lines = shapely.linestrings(tree.segments().reshape(-1, 2, 2))
    return bool((shapely.distance(lines, spot) < 1e-3).any())
