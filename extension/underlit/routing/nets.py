"""Nets: pads that one connected piece of tape joins, and where pads are that never move."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from ..records import record
from .task import Task

#: A terminal: (kind, index in the task, pad): ("light", 3, "positive"), ("part", 0, "first").
Key = tuple[str, int, str]


@record
class NetSpec:
    """Pads that one connected piece of tape must join."""

    polarity: str
    pads: tuple[Key, ...]


def nets_of(task: Task) -> tuple[NetSpec, ...]:
    """Minus last; before it the plus side, cut by every part in line, nearest part first."""
    minus = [("cell", i, "negative") for i in range(len(task.cells))]
    minus += [("light", i, "negative") for i in range(len(task.lights))]
    way: list[Key] = [("cell", i, "positive") for i in range(len(task.cells))]
    nets = []
    here = task.cells[0].positive
    left = list(range(len(task.parts)))
    while left:
        near = min(left, key=lambda j: (_reach(task, j, here), j))
        left.remove(near)
        first, second = _way_through(task, near, here, left)
        nets.append(NetSpec("positive", (*way, ("part", near, first))))
        way = [("part", near, second)]
        here = getattr(task.parts[near], second)
    lights: list[Key] = [("light", i, "positive") for i in range(len(task.lights))]
    nets.append(NetSpec("positive", (*way, *lights)))
    nets.append(NetSpec("negative", tuple(minus)))
    return tuple(nets)


def _reach(task: Task, j: int, here: BaseGeometry) -> float:
    part = task.parts[j]
    return float(min(part.first.distance(here), part.second.distance(here)))


def _way_through(task: Task, j: int, here: BaseGeometry, left: list[int]) -> tuple[str, str]:
    """The contact that a part is entered by and the one it is left by.

    The shorter of both ways counts, that on to the next part (or to a light) included: who looks
    back only would lay tape round a part to its far side.
    """
    part = task.parts[j]
    ahead = [task.parts[k].first for k in left] + [task.parts[k].second for k in left]
    goal = shapely.union_all(ahead or [Point(light.at) for light in task.lights])
    straight = part.first.distance(here) + part.second.distance(goal)
    back = part.second.distance(here) + part.first.distance(goal)
    return ("first", "second") if straight <= back else ("second", "first")


def owner_of(task: Task, key: Key) -> tuple[str, tuple[float, float]]:
    """The id of the light, cell or part that a pad belongs to, and where that is."""
    kind, i, _ = key
    if kind == "light":
        return task.lights[i].id, task.lights[i].at
    part = task.cells[i] if kind == "cell" else task.parts[i]
    middle = part.body.centroid
    return part.id, (float(middle.x), float(middle.y))


def fixed_pad(task: Task, key: Key) -> BaseGeometry:
    """A pad of a cell, switch or resistor."""
    kind, i, pad = key
    part = task.cells[i] if kind == "cell" else task.parts[i]
    area: BaseGeometry = getattr(part, pad)
    return area


def fixed_corners(task: Task, key: Key) -> np.ndarray:
    """(n, 2) corners of a pad that never moves."""
    return corners_of(fixed_pad(task, key))


def corners_of(pad: BaseGeometry) -> np.ndarray:
    """(n, 2) corners of a pad, taken as convex and without what only follows a curve."""
    hull = pad.convex_hull
    corners: np.ndarray = shapely.get_coordinates(hull.simplify(0.05).exterior)[:-1]
    return corners


def ring_segments(corners: np.ndarray) -> np.ndarray:
    """(n, 4) sides of a polygon."""
    sides = np.empty((len(corners), 4))
    sides[:, :2] = corners
    sides[:-1, 2:], sides[-1, 2:] = corners[1:], corners[0]
    return sides
