"""Why a pad cannot be reached: the neck on its shortest way, what it needs and what it has.

All distances are shrunk together until the pad is reached; how far they had to be says how much
is missing, and the two things that are nearest to each other on that way are the neck.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from .board import Key, Room
from .layout import NoRoom
from .task import Task
from .vgraph import shortest, visibility

#: What a passage needs beyond the bare sum of its widths (mm), for bends at its mouth.
EASE = 0.3

#: Necks are found within this (mm).
FINE = 0.02


def explain(task: Task, room: Room, cut_off: Sequence[Key]) -> tuple[NoRoom, ...]:
    """One explanation for each pad that was cut off, at most one per light."""
    found: list[NoRoom] = []
    seen: set[int] = set()
    both = _passage(room)
    for key in cut_off:
        if key[0] != "light" or key[1] in seen:
            continue
        seen.add(key[1])
        neck = _neck(task, room, key, room.half)
        needed = 2.0 * room.half
        if neck is None:
            neck = _neck(task, room, key, both / 2.0)
            needed = both
        if neck is not None:
            found.append(_told(task, key, neck, needed, room))
    return tuple(found)


def _passage(room: Room) -> float:
    """Width that both sides take beside each other (mm), clearances not counted."""
    return 4.0 * room.half + room.gap


class _Neck:
    """Where the way is too narrow: the two things, their distance and their clearances."""

    def __init__(self, at: Point, names: tuple[str, str], has: float, clear: float) -> None:
        self.at, self.names, self.has, self.clear = at, names, has, clear


def _things(task: Task, room: Room) -> list[tuple[str, BaseGeometry, float]]:
    """Everything that keeps tape of either side away: name, area, clearance."""
    things = [("the edge", task.base.boundary, room.edge)]
    things += [(o.name, o.area, o.clearance) for o in task.obstacles]
    things += [("the battery", cell.body, 0.0) for cell in task.cells if cell.ring is None]
    things += [(part.id, part.body, 0.0) for part in task.parts]
    return things


def _open(task: Task, room: Room, half: float) -> BaseGeometry:
    """Where the middle of something `half` wide to both sides can pass, lights left out."""
    taken = [
        o.area.buffer(o.clearance + half, quad_segs=6)
        for o in task.obstacles
        if half + o.clearance > 0
    ]
    inner = task.base.buffer(-(room.edge + half), quad_segs=6)
    return inner.difference(shapely.union_all(taken)) if taken else inner


def _neck(task: Task, room: Room, key: Key, half: float) -> _Neck | None:
    """The neck on the way from the cell to a light for something this wide; None: no neck."""
    goal = task.lights[key[1]].at
    start = task.cells[0].body.centroid
    ends = np.array([(start.x, start.y), goal])
    if _way(task, room, ends, half) is not None:
        return None
    low, high = -1.0, half
    if _way(task, room, ends, low) is None:
        low = -room.edge
    while high - low > FINE / 2.0:
        middle = (low + high) / 2.0
        if _way(task, room, ends, middle) is None:
            high = middle
        else:
            low = middle
    way = _way(task, room, ends, low)
    return None if way is None else _narrowest(task, room, way)


def _way(task: Task, room: Room, ends: np.ndarray, half: float) -> LineString | None:
    free = _open(task, room, half)
    # parts stand in wide places: their own surroundings never are the neck
    doors = [Point(p).buffer(12.0 + max(0.0, half)) for p in ends]
    free = shapely.union_all([free, *(d.intersection(task.base) for d in doors)])
    for obstacle in task.obstacles:
        free = free.difference(obstacle.area)
    graph = visibility(free, ends, 0.0)
    way = shortest(graph, [0], {1})
    return None if way is None else LineString(graph.at[way])


def _narrowest(task: Task, room: Room, way: LineString) -> _Neck | None:
    """The two things between which a way squeezes through most tightly."""
    things = _things(task, room)
    best: tuple[float, _Neck] | None = None
    count = max(2, int(way.length / 0.5))
    for k in range(1, count):
        at = way.interpolate(k / count, normalized=True)
        around = sorted(
            (float(area.distance(at)) - clear, i) for i, (_, area, clear) in enumerate(things)
        )
        free, i = around[0]
        opposite = [j for f, j in around if j != i and _facing(at, things[i][1], things[j][1])]
        if not opposite:
            continue
        j = opposite[0]
        line = shapely.shortest_line(things[i][1], things[j][1])
        if line.distance(at) > 6.0:
            continue
        room_left = line.length - things[i][2] - things[j][2]
        if best is None or room_left < best[0] - 1e-6:
            names = (things[i][0], things[j][0])
            best = (
                room_left,
                _Neck(line.centroid, names, line.length, things[i][2] + things[j][2]),
            )
        del free
    return best[1] if best else None


def _facing(at: Point, first: BaseGeometry, second: BaseGeometry) -> bool:
    """Whether two things lie on opposite sides of a place."""
    a = np.array(shapely.shortest_line(at, first).coords[-1]) - (at.x, at.y)
    b = np.array(shapely.shortest_line(at, second).coords[-1]) - (at.x, at.y)
    size = float(np.hypot(*a) * np.hypot(*b))
    return size < 1e-9 or float(a @ b) / size < -0.2


def _told(task: Task, key: Key, neck: _Neck, tape: float, room: Room) -> NoRoom:
    light = task.lights[key[1]]
    needed = tape + neck.clear + EASE
    missing = needed - neck.has
    cures = [
        f"Make the passage between {neck.names[0]} and {neck.names[1]} {missing:.1f} mm wider."
    ]
    strips = 2 if tape > 2.5 * room.half else 1
    narrower = task.limits.width - missing / strips
    if narrower >= 3.0:
        cures.append(f"Use tape of {narrower:.1f} mm.")
    cures.append(f"Move light {light.id} or the battery to this side of the passage.")
    return NoRoom(
        light.id,
        key[2],
        (neck.at.x, neck.at.y),
        neck.names,
        round(needed, 3),
        round(neck.has, 3),
        tuple(cures[:3]),
    )
