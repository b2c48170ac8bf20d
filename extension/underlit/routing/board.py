"""The board while it is being routed: nets, where their tape may run, the trees laid so far.

Strips are thought of as discs of half the tape's width drawn along centre lines, so that a
centre line has to keep half a width more than the tape. Ends are cut square at the node and
may be drawn out later; round corners and square ends stay inside the discs.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ..records import record
from .folds import Folds
from .openings import Windows
from .segments import NONE, clear
from .task import Light, Pinned, Task

if TYPE_CHECKING:
    from .crossing import Crossing

#: A terminal: (kind, index in the task, pad): ("light", 3, "positive"), ("part", 0, "first").
Key = tuple[str, int, str]

#: How far around a light's body its own gap holds (mm).
AROUND = 2.0

#: A part's frame may rest on the edge of a strip by so much (mm; common practice, no source).
UNDER = 0.15

#: Segments per quarter of an arc, and how much wider it must be to lie outside the true arc.
ARC = 3
WIDER = 1.0 / math.cos(math.pi / (4.0 * ARC))


def grown(area: BaseGeometry, by: float) -> BaseGeometry:
    """An area with all within `by` mm of it, never less.

    Along curves of many short sides the buffer of GEOS falls short by up to 1 % (it thins them
    out first), so that what is missing is measured and added.
    """
    wide = area.buffer(by * WIDER + 1e-4, quad_segs=ARC)
    if wide.is_empty or by <= 0.0:
        return wide
    short = by - float(wide.boundary.distance(area))
    return wide if short <= 0.0 else area.buffer((by + short) * WIDER + 1e-4, quad_segs=ARC)


def capsules(segments: np.ndarray, radius: float) -> np.ndarray:
    """Polygons round segments (k, 4): exact along them, a little more round their ends."""
    way = segments[:, 2:] - segments[:, :2]
    size = np.hypot(way[:, 0], way[:, 1])
    angle = np.where(size > 1e-9, np.arctan2(way[:, 1], way[:, 0]), 0.0)
    step = math.pi / (2 * ARC)
    spread = math.pi / 2.0 + step / 2.0 + step * np.arange(2 * ARC)
    around = np.concatenate([spread, spread + math.pi])
    far = (radius + 1e-4) / math.cos(step / 2.0)
    turned = angle[:, None] + around[None, :]
    rings = far * np.stack([np.cos(turned), np.sin(turned)], axis=2)
    rings[:, : 2 * ARC] += segments[:, None, :2]
    rings[:, 2 * ARC :] += segments[:, None, 2:]
    made: np.ndarray = shapely.polygons(rings)
    return made


@record
class Room:
    """The distances that hold in one attempt (mm): from aims down to limits."""

    half: float
    gap: float
    edge: float
    #: share of each pad to cover, or mm2 of it where that is less; an end covers `least_cover`
    cover: float = 0.5
    least_cover: float = 0.5
    square: float = 10.0


@record
class NetSpec:
    """Pads that one connected piece of tape must join."""

    polarity: str
    pads: tuple[Key, ...]


class Tree:
    """Centre lines of one net: numbered nodes, links, and the node at each pad."""

    def __init__(self) -> None:
        self.at: dict[int, tuple[float, float]] = {}
        self.links: dict[int, set[int]] = {}
        self.pad_node: dict[Key, int] = {}
        self.next = 0
        #: nodes of pinned strips, and the links along them
        self.fixed: set[int] = set()
        self.pinned: set[tuple[int, int]] = set()
        #: of these, the ones still to be laid (from sketches)
        self.planned: set[tuple[int, int]] = set()

    def add(self, at: tuple[float, float]) -> int:
        """A new node."""
        node = self.next
        self.next += 1
        self.at[node] = at
        self.links[node] = set()
        return node

    def link(self, a: int, b: int) -> None:
        self.links[a].add(b)
        self.links[b].add(a)

    def unlink(self, a: int, b: int) -> None:
        self.links[a].discard(b)
        self.links[b].discard(a)

    def drop(self, node: int) -> None:
        for other in self.links.pop(node):
            self.links[other].discard(node)
        del self.at[node]

    def edges(self) -> Iterator[tuple[int, int]]:
        for a, others in self.links.items():
            for b in sorted(others):
                if a < b:
                    yield a, b

    def segments(self) -> np.ndarray:
        """(n, 4) of all links."""
        rows = [(*self.at[a], *self.at[b]) for a, b in self.edges()]
        if not rows:
            rows = [(*p, *p) for p in list(self.at.values())[:1]]
        return np.array(rows, dtype=float).reshape(-1, 4)

    def is_pinned(self, a: int, b: int) -> bool:
        return (min(a, b), max(a, b)) in self.pinned

    def length(self) -> float:
        return sum(
            math.dist(self.at[a], self.at[b]) for a, b in self.edges() if (a, b) not in self.pinned
        )

    def restore(self, kept: Tree) -> None:
        """Become as the copy was."""
        self.__dict__.update(kept.__dict__)

    def copy(self) -> Tree:
        new = Tree()
        new.at = dict(self.at)
        new.links = {n: set(o) for n, o in self.links.items()}
        new.pad_node = dict(self.pad_node)
        new.next = self.next
        new.fixed = set(self.fixed)
        new.pinned = set(self.pinned)
        new.planned = set(self.planned)
        return new


class Board:
    """One attempt: a task with its distances, the lights' angles, one tree per net."""

    def __init__(self, task: Task, room: Room) -> None:
        self.task, self.room = task, room
        self.nets = nets_of(task)
        self.net_of = {key: n for n, net in enumerate(self.nets) for key in net.pads}
        self.angles = [float(light.angle) for light in task.lights]
        self.trees: list[Tree | None] = [None] * len(self.nets)
        self.free = [free_area(task, room, n, self.nets) for n in range(len(self.nets))]
        for area in self.free:
            shapely.prepare(area)
        #: counts changes
        self.version = 0
        self._zone_gap = [_gap_in_zone(light, task.limits.gap) for light in task.lights]
        #: length of Steiner trees, once it is known (shared by all boards of one attempt)
        self.reference: list[float] = []
        self.windows = Windows(task)
        self.folds = Folds(task)
        #: crossings over paper
        self.crossings: tuple[Crossing, ...] = ()
        self._local = [_own_pads(light) for light in task.lights]
        self._pads: dict[int, tuple[float, dict[str, np.ndarray]]] = {}
        self._fences: dict[int, tuple[np.ndarray, np.ndarray]] = {}
        self._areas: dict[Key, tuple[float, Polygon]] = {}

    def clone(self) -> Board:
        """The same attempt with trees and angles of its own."""
        new = object.__new__(Board)
        new.__dict__.update(self.__dict__)
        new.angles = list(self.angles)
        new.trees = [t.copy() if t is not None else None for t in self.trees]
        new._pads, new._fences, new._areas = {}, {}, {}
        return new

    def corners(self, key: Key) -> np.ndarray:
        """(n, 2) corners of a pad where it is now."""
        kind, i, pad = key
        if kind != "light":
            return fixed_corners(self.task, key)
        known = self._pads.get(i)
        if known is None or known[0] != self.angles[i]:
            known = (self.angles[i], self.light_pads(i, self.angles[i]))
            self._pads[i] = known
        return known[1][pad]

    def light_pads(self, i: int, angle: float) -> dict[str, np.ndarray]:
        """Corners of both pads of a light at an angle (degrees)."""
        c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        turn = np.array([[c, s], [-s, c]])
        at = np.array(self.task.lights[i].at)
        return {pad: points @ turn + at for pad, points in self._local[i].items()}

    def pad_gap(self, key: Key) -> float:
        """Gap (mm) between a light's pad and other tape: less than elsewhere, by its profile."""
        light = self.task.lights[key[1]]
        return max(
            light.gap, self.room.gap - max(0.0, self.task.limits.gap - self._zone_gap[key[1]])
        )

    def zone(self, i: int) -> BaseGeometry:
        """Where a light's own gap holds: its body and all within 2 mm."""
        light = self.task.lights[i]
        body = rotate(light.body.buffer(AROUND), self.angles[i], origin=(0, 0))
        area: BaseGeometry = translate(body, *light.at)
        return area

    def pad_area(self, key: Key) -> float:
        """Area of a pad (mm2)."""
        kind, i, pad = key
        area: BaseGeometry = (
            getattr(self.task.lights[i], pad) if kind == "light" else fixed_pad(self.task, key)
        )
        return float(area.area)

    def pad(self, key: Key) -> Polygon:
        """A pad where it is now."""
        kind, i, _ = key
        angle = self.angles[i] if kind == "light" else 0.0
        known = self._areas.get(key)
        if known is None or known[0] != angle:
            known = (angle, Polygon(self.corners(key)))
            self._areas[key] = known
        return known[1]

    def centre(self, key: Key) -> tuple[float, float]:
        """Middle of a pad where it is now."""
        rows = self.corners(key).tolist()
        return (sum(r[0] for r in rows) / len(rows), sum(r[1] for r in rows) / len(rows))

    def changed(self, *nets: int) -> None:
        """A tree or an angle has changed: of these nets, or (none named) of all."""
        self.version += 1
        if nets and len(self.nets) == 2:
            for n in nets:
                self._fences.pop(1 - n, None)
        else:
            self._fences.clear()

    def fence(self, net: int) -> tuple[np.ndarray, np.ndarray]:
        """Segments that a centre line of the net keeps away from, and how far."""
        known = self._fences.get(net)
        if known is None:
            known = self._fence(net)
            self._fences[net] = known
        return known

    def _fence(self, net: int) -> tuple[np.ndarray, np.ndarray]:
        rows, apart = [NONE], [np.zeros(0)]
        room = self.room
        for n, tree in enumerate(self.trees):
            if n != net and tree is not None:
                rows.append(tree.segments())
                apart.append(np.full(len(rows[-1]), 2.0 * room.half + room.gap))
        for key, n in self.net_of.items():
            if n != net and key[0] == "light":
                rows.append(ring_segments(self.corners(key)))
                apart.append(np.full(len(rows[-1]), room.half + self.pad_gap(key)))
        return np.concatenate(rows), np.concatenate(apart)

    def legal(self, net: int, segments: np.ndarray) -> bool:
        """Whether centre lines (k, 4) of a net keep all distances."""
        if not clear(segments, *self.fence(net)):
            return False
        lines = shapely.linestrings(segments.reshape(-1, 2, 2))
        if self.folds.lines and not self.folds.allowed(segments).all():
            return False
        return bool(shapely.covers(self.free[net], lines).all())


def ring_segments(corners: np.ndarray) -> np.ndarray:
    """(n, 4) sides of a polygon."""
    return np.concatenate([corners, np.roll(corners, -1, axis=0)], axis=1)


def _gap_in_zone(light: Light, gap: float) -> float:
    """The gap that holds round a light's pads: its own where its surroundings reach that far."""
    zone = light.body.buffer(AROUND + 0.01)
    pads = (light.positive, light.negative)
    covered = all(zone.covers(pad.buffer(gap, quad_segs=4)) for pad in pads)
    return min(gap, light.gap) if covered else gap


def corners_of(pad: BaseGeometry) -> np.ndarray:
    """(n, 2) corners of a pad, taken as convex and without what only follows a curve."""
    hull = pad.convex_hull
    corners: np.ndarray = shapely.get_coordinates(hull.simplify(0.05).exterior)[:-1]
    return corners


def _own_pads(light: Light) -> dict[str, np.ndarray]:
    return {
        "positive": corners_of(light.positive),
        "negative": corners_of(light.negative),
    }


def fixed_pad(task: Task, key: Key) -> BaseGeometry:
    """A pad of a cell, switch or resistor."""
    kind, i, pad = key
    part = task.cells[i] if kind == "cell" else task.parts[i]
    area: BaseGeometry = getattr(part, pad)
    return area


def fixed_corners(task: Task, key: Key) -> np.ndarray:
    """(n, 2) corners of a pad that never moves."""
    return corners_of(fixed_pad(task, key))


def nets_of(task: Task) -> tuple[NetSpec, ...]:
    """Minus last; before it the plus side, cut by every part in line, nearest part first."""
    minus = [("cell", i, "negative") for i in range(len(task.cells))]
    minus += [("light", i, "negative") for i in range(len(task.lights))]
    way: list[Key] = [("cell", i, "positive") for i in range(len(task.cells))]
    nets = []
    here = task.cells[0].positive
    left = list(range(len(task.parts)))
    while left:
        near = min(left, key=lambda j: (_reach(task, j, here)[0], j))
        left.remove(near)
        _, first, second = _reach(task, near, here)
        nets.append(NetSpec("positive", (*way, ("part", near, first))))
        way = [("part", near, second)]
        here = getattr(task.parts[near], second)
    lights: list[Key] = [("light", i, "positive") for i in range(len(task.lights))]
    nets.append(NetSpec("positive", (*way, *lights)))
    nets.append(NetSpec("negative", tuple(minus)))
    return tuple(nets)


def _reach(task: Task, j: int, here: BaseGeometry) -> tuple[float, str, str]:
    part = task.parts[j]
    a, b = part.first.distance(here), part.second.distance(here)
    return (a, "first", "second") if a <= b else (b, "second", "first")


def free_area(task: Task, room: Room, net: int, nets: tuple[NetSpec, ...]) -> BaseGeometry:
    """Where centre lines of a net may run, lights and other tape left out of account."""
    polarity = nets[net].polarity
    taken = []
    for obstacle in task.obstacles:
        if obstacle.polarity in {None, polarity}:
            taken.append(grown(obstacle.area, obstacle.clearance + room.half))
    own = {key for key in nets[net].pads if key[0] != "light"}
    others = {k for n in nets for k in n.pads if k[0] != "light"} - own
    for key in sorted(others):
        taken.append(grown(fixed_pad(task, key), room.gap + room.half))
    doors = [fixed_pad(task, key).buffer(room.half + 0.1) for key in sorted(own)]
    for body in _bodies(task, polarity):
        taken.append(grown(body.difference(shapely.union_all(doors)), room.half))
    for pin in task.pinned:
        if pin.polarity != polarity:
            taken += _taken_by_pin(pin, room)
    inner = task.base.buffer(-(room.edge + room.half), quad_segs=8)
    return inner.difference(shapely.union_all(taken)) if taken else inner


def _taken_by_pin(pin: Pinned, room: Room) -> list[BaseGeometry]:
    """Where a pinned strip keeps tape of the other side away: not where paper lies on it."""
    if pin.paper is None:
        return [grown(pin.area, room.gap + room.half)]
    bare = pin.area.difference(pin.paper)
    near = grown(pin.area, room.gap).difference(pin.paper)
    return [grown(bare, room.gap + room.half), grown(near, room.half)]


def _bodies(task: Task, polarity: str) -> Iterator[BaseGeometry]:
    """Bodies of cells and parts that keep tape of a polarity out."""
    for cell in task.cells:
        if cell.ring is None:
            yield cell.body.buffer(-UNDER)
        elif polarity == "negative":
            hole = cell.insulated
            yield cell.ring if hole is None else cell.ring.difference(hole)
        else:
            yield cell.body
    for part in task.parts:
        yield part.body.buffer(-UNDER)


def biggest(area: BaseGeometry) -> Polygon:
    """The largest polygon of an area."""
    return max(shapely.get_parts(area), key=lambda p: p.area)
