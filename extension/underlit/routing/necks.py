"""Necks: where tape squeezes through between two things that stay.

A neck is read off a layout that was laid with everything made smaller by one share. Across the
way to a foot, to both sides, lie things that stay; between them pass so many strips. What these
need at full size, against the distance of the two things, says how narrow the place is.
"""

from __future__ import annotations

import math
from collections import deque
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_along
from ..language import say
from ..records import record
from .board import Board
from .nets import Key, owner_of
from .task import Task
from .tree import Tree

At = tuple[float, float]

#: Places along a way (mm), and directions to both sides (degrees off square).
EVERY = 1.0
ASLANT = (0.0, -25.0, 25.0)

#: How far to each side things are looked for (mm).
REACH = 45.0

#: A place this near to what it needs may be the neck still: bends at its mouth take a little.
TIGHT = 1.04

#: Necks of the same two things nearer than this are one (mm).
SAME = 12.0


@record
class Thing:
    """Something that stays: tape keeps `clear` (mm) from it. `blocks` one side only, or both.

    `kind` is edge, obstacle, body, foot or pin; `number` its place in the task's list, of a
    light's foot the light's.
    """

    name: str
    area: BaseGeometry
    clear: float
    kind: str
    number: int = -1
    blocks: str | None = None


@record
class Neck:
    """A neck: two things, the middle between them, mm needed and there; `way` from second to
    first (a unit vector); `ends` of the line across it that is measured, None where it has no
    length."""

    first: Thing
    second: Thing
    at: At
    needed: float
    available: float
    way: At
    ends: tuple[At, At] | None = None

    @property
    def ratio(self) -> float:
        """What is there as a share of what is needed."""
        return self.available / max(self.needed, 1e-9)


def things_of(board: Board, task: Task) -> list[Thing]:
    """All things of a task that stay, feet as the board has turned them."""
    limits = task.limits
    found = [Thing(say("the edge"), task.base.boundary, limits.edge, "edge")]
    for i, o in enumerate(task.obstacles):
        found.append(Thing(o.name, o.area, o.clearance, "obstacle", i, o.polarity))
    for i, cell in enumerate(task.cells):
        if cell.ring is None:
            found.append(Thing(cell.id, cell.body, 0.0, "body", i))
        for side in ("positive", "negative"):
            other = "negative" if side == "positive" else "positive"
            found.append(Thing(cell.id, getattr(cell, side), limits.gap, "foot", -1, other))
    for i, part in enumerate(task.parts):
        found.append(Thing(part.id, part.body, 0.0, "body", i))
    for i, pin in enumerate(task.pinned):
        blocks = {"positive": "negative", "negative": "positive"}.get(pin.polarity or "")
        found.append(Thing(pin.id, pin.area, limits.gap, "pin", i, blocks))
    for i, light in enumerate(task.lights):
        for side, other in (("positive", "negative"), ("negative", "positive")):
            pad = board.pad(("light", i, side))
            found.append(Thing(light.id, pad, light.gap, "foot", i, other))
    return found


def way_to(board: Board, key: Key) -> list[At]:
    """Centre line from the cell (or the part before it) to a pad; empty without one."""
    net = board.net_of[key]
    tree = board.trees[net]
    if tree is None or key not in tree.pad_node:
        return []
    root = tree.pad_node[board.nets[net].pads[0]]
    came = {root: root}
    todo = deque([root])
    while todo:
        node = todo.popleft()
        for other in sorted(tree.links[node]):
            if other not in came:
                came[other] = node
                todo.append(other)
    node = tree.pad_node[key]
    if node not in came:
        return []
    way = [tree.at[node]]
    while node != root:
        node = came[node]
        way.append(tree.at[node])
    return way[::-1]


def necks_on(board: Board, task: Task, key: Key) -> list[Neck]:
    """Places on the way to a pad that are too narrow at full size, narrowest first."""
    way, found = way_to(board, key), []
    if len(way) > 1:
        sounder = _Sounder(board, task, board.nets[board.net_of[key]].polarity, LineString(way))
        found = [neck for at, along in _steps(way) for neck in sounder.across(at, along)]
        found.sort(key=lambda n: (n.ratio, n.at))
    found += _beside_foot(board, task, key, things_of(board, task))
    kept: list[Neck] = []
    for neck in found:
        if neck.ratio < TIGHT and not any(_alike(neck, other) for other in kept):
            kept.append(neck)
    return kept


def _alike(a: Neck, b: Neck) -> bool:
    return {a.first.name, a.second.name} == {b.first.name, b.second.name} and (
        math.dist(a.at, b.at) < SAME
    )


def _steps(way: list[At]) -> list[tuple[At, float]]:
    """Places along a way and its heading there (radians)."""
    found = []
    for p, q in pairwise(way):
        length = math.dist(p, q)
        if length < 1e-6:
            continue
        heading = math.atan2(q[1] - p[1], q[0] - p[0])
        count = max(1, math.ceil(length / step_along(EVERY, length)))
        for k in range(count + 1):
            t = k / count
            found.append(((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])), heading))
    return found


class _Sounder:
    """Looks to both sides of a way of one polarity."""

    def __init__(self, board: Board, task: Task, side: str, way: LineString) -> None:
        self.task, self.side, self.way = task, side, way
        self.things = things_of(board, task)
        self.index = shapely.STRtree([thing.area for thing in self.things])
        self.runs = [
            (net.polarity, _lines(tree))
            for net, tree in zip(board.nets, board.trees, strict=True)
            if tree is not None
        ]

    def across(self, at: At, heading: float) -> list[Neck]:
        """Necks seen across a place, one for each direction in which both sides are near."""
        found = []
        for off in ASLANT:
            angle = heading + math.pi / 2.0 + math.radians(off)
            left, right = (self._side(at, angle + turn) for turn in (0.0, math.pi))
            if left is None or right is None:
                continue
            ux, uy = math.cos(angle), math.sin(angle)
            chord = LineString(
                [
                    (at[0] + left[1] * ux, at[1] + left[1] * uy),
                    (at[0] - right[1] * ux, at[1] - right[1] * uy),
                ]
            )
            neck = self._neck(at, left, right, chord)
            if neck is not None:
                found.append(neck)
        return found

    def _side(self, at: At, angle: float) -> tuple[Thing, float, list[tuple[float, str]]] | None:
        """The first thing to one side that stops the outermost strip before it, how far it is,
        and the strips before it (distance, polarity)."""
        end = (at[0] + REACH * math.cos(angle), at[1] + REACH * math.sin(angle))
        ray, spot = LineString([at, end]), Point(at)
        strips: list[tuple[float, str]] = []
        for side, lines in self.runs:
            hits = shapely.intersection(lines[shapely.intersects(lines, ray)], ray)
            strips += [(float(d), side) for d in shapely.distance(hits, spot) if d > 0.05]
        strips.sort()
        hits = []
        for k in self.index.query(ray, predicate="intersects").tolist():
            hit = self.things[k].area.intersection(ray)
            hits.append((float(hit.distance(spot)), k))
        for far, k in sorted(hits):
            before = [s for s in strips if s[0] < far]
            outermost = before[-1][1] if before else self.side
            thing = self.things[k]
            if thing.blocks in {None, outermost}:
                return thing, far, before
        return None

    def _neck(
        self,
        at: At,
        left: tuple[Thing, float, list[tuple[float, str]]],
        right: tuple[Thing, float, list[tuple[float, str]]],
        chord: LineString,
    ) -> Neck | None:
        sides = [s for _, s in reversed(left[2])] + [self.side] + [s for _, s in right[2]]
        strips = 1 + sum(a != b for a, b in pairwise(sides))
        limits = self.task.limits
        first, second = left[0], right[0]
        tape = strips * limits.width + (strips - 1) * limits.gap
        needed = tape + first.clear + second.clear
        line = chord if first is second else self._between(first, second, at, chord)
        if line.length < 1e-6:
            return None
        (ax, ay), (bx, by) = line.coords[0], line.coords[-1]
        way = ((ax - bx) / line.length, (ay - by) / line.length)
        middle = ((ax + bx) / 2.0, (ay + by) / 2.0)
        return Neck(first, second, middle, needed, line.length, way, ((ax, ay), (bx, by)))

    def _between(self, first: Thing, second: Thing, at: At, chord: LineString) -> LineString:
        """The shortest line between two things across the way; else the chord."""
        around = Point(at).buffer(chord.length / 2.0 + 6.0)
        a, b = first.area.intersection(around), second.area.intersection(around)
        if a.is_empty or b.is_empty:
            return chord
        line = shapely.shortest_line(a, b)
        return line if line.distance(self.way) < 0.01 and line.length > 0.0 else chord


def _lines(tree: Tree) -> np.ndarray:
    made: np.ndarray = shapely.linestrings(tree.segments().reshape(-1, 2, 2))
    return made


def _beside_foot(board: Board, task: Task, key: Key, things: list[Thing]) -> list[Neck]:
    """Things so near to a foot that tape on its middle comes too near to them."""
    side = board.nets[board.net_of[key]].polarity
    x, y = board.centre(key)
    spot, half = Point(x, y), task.limits.width / 2.0
    owner, light = owner_of(task, key)[0], key[1] if key[0] == "light" else -1
    foot = Thing(owner, spot, 0.0, "foot", light)
    found = []
    for thing in things:
        own = thing.kind in {"foot", "body"} and thing.name == owner
        if own or thing.blocks not in {None, side}:
            continue
        far = float(thing.area.distance(spot))
        needed = thing.clear + half
        if far < needed:
            near = thing.area.boundary if far == 0.0 and thing.kind != "edge" else thing.area
            p = shapely.shortest_line(near, spot).coords[0]
            size = math.dist(p, (x, y)) or 1.0
            sign = -1.0 if far == 0.0 else 1.0
            way = (sign * (x - p[0]) / size, sign * (y - p[1]) / size)
            ends = ((x, y), (p[0], p[1])) if far > 0.0 else None
            found.append(Neck(foot, thing, (x, y), needed, far, way, ends))
    return [*sorted(found, key=lambda n: n.ratio), *_feet_of_two(task, foot, side, things)]


def _feet_of_two(task: Task, foot: Thing, side: str, things: list[Thing]) -> list[Neck]:
    """Feet of other lights, on the other side, so near that tape on both middles is too near."""
    needed = task.limits.width + task.limits.gap
    found = []
    for thing in things:
        if thing.kind != "foot" or thing.number in {-1, foot.number} or thing.blocks != side:
            continue
        line = LineString([foot.area, thing.area.centroid])
        if 0.0 < line.length < needed:
            (ax, ay), (bx, by) = line.coords
            way = ((ax - bx) / line.length, (ay - by) / line.length)
            at = ((ax + bx) / 2.0, (ay + by) / 2.0)
            found.append(Neck(foot, thing, at, needed, line.length, way, ((ax, ay), (bx, by))))
    return sorted(found, key=lambda n: n.ratio)
