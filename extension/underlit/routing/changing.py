"""A task changed a little: to see what would help where there is no room."""

from __future__ import annotations

import dataclasses

import shapely
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from .necks import Neck, Thing
from .task import Light, Pinned, Task

At = tuple[float, float]


def shrunk(task: Task, share: float) -> Task:
    """The task with tape, gaps and clearances made smaller by one share; aims are left out."""
    limits = task.limits
    smaller = dataclasses.replace(
        limits,
        width=share * limits.width,
        gap=share * limits.gap,
        aim_gap=share * limits.gap,
        edge=share * limits.edge,
        aim_edge=share * limits.edge,
        aim_pad=limits.pad_cover,
        aim_joint=limits.joint_cover,
    )
    return dataclasses.replace(
        task,
        limits=smaller,
        lights=tuple(dataclasses.replace(li, gap=share * li.gap) for li in task.lights),
        obstacles=tuple(
            dataclasses.replace(o, clearance=share * o.clearance) for o in task.obstacles
        ),
    )


def narrower(task: Task, width: float) -> Task:
    """The task with tape of another width (mm)."""
    return dataclasses.replace(task, limits=dataclasses.replace(task.limits, width=width))


def freed(task: Task, light: int) -> Task:
    """The task with one light free to turn."""
    return _with_light(task, light, dataclasses.replace(task.lights[light], turn="free"))


def moved(task: Task, light: int, by: At) -> Task:
    """The task with one light moved (mm)."""
    one = task.lights[light]
    return _with_light(
        task, light, dataclasses.replace(one, at=(one.at[0] + by[0], one.at[1] + by[1]))
    )


def _with_light(task: Task, number: int, light: Light) -> Task:
    lights = tuple(light if i == number else one for i, one in enumerate(task.lights))
    return dataclasses.replace(task, lights=lights)


def widened(task: Task, neck: Neck, by: float) -> Task | None:
    """The task with a neck wider by some mm: one of its two things gives way there.

    Windows and strips lose what faces the neck, the edge moves out, a light is moved; None where
    neither thing can give way.
    """
    for thing, sign in sorted(
        ((neck.first, 1.0), (neck.second, -1.0)), key=lambda pair: _GIVING.index(pair[0].kind)
    ):
        by_x, by_y = sign * by * neck.way[0], sign * by * neck.way[1]
        changed = _given_way(task, thing, (by_x, by_y))
        if changed is not None:
            return changed
    return None


#: Which of two things gives way first.
_GIVING = ("obstacle", "edge", "pin", "foot", "body")


def _given_way(task: Task, thing: Thing, by: At) -> Task | None:
    if thing.kind == "obstacle":
        new = dataclasses.replace(task.obstacles[thing.number], area=_eaten(thing.area, by))
        rest = list(task.obstacles)
        rest[thing.number] = new
        return dataclasses.replace(task, obstacles=tuple(rest))
    if thing.kind == "edge":
        base = shapely.union_all([task.base, translate(task.base, *by)])
        return dataclasses.replace(task, base=base)
    if thing.kind == "pin":
        pin: Pinned = task.pinned[thing.number]
        rest_of = list(task.pinned)
        rest_of[thing.number] = dataclasses.replace(pin, area=_eaten(pin.area, by))
        return dataclasses.replace(task, pinned=tuple(rest_of))
    if thing.kind == "foot" and thing.number >= 0:
        return moved(task, thing.number, by)
    return None


def _eaten(area: BaseGeometry, by: At) -> BaseGeometry:
    """An area without what faces away from a shift."""
    return area.intersection(translate(area, *by))
