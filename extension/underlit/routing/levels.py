"""One run of routing, and its levels: sets of distances from the aims down to the limits."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable
from random import Random

import shapely
from shapely.affinity import rotate, translate

from ..records import record
from ..units import TOLERANCE
from .allowance import Allowance
from .assemble import least_overhang
from .board import Board
from .folds import SQUARE
from .free import Room
from .price import Prices, prices_of
from .task import Clock, Light, Task
from .tour import Lands, Tour, guided, orders


def held(task: Task) -> Task:
    """Lights on pinned strips keep their angle."""
    if not task.pinned:
        return task
    pins = shapely.union_all([pin.area for pin in task.pinned])
    lights = []
    for light in task.lights:
        pads = shapely.union_all([light.positive, light.negative])
        there = translate(rotate(pads, light.angle, origin=(0, 0)), *light.at)
        touched = pins.intersects(there)
        lights.append(dataclasses.replace(light, turn="locked") if touched else light)
    return dataclasses.replace(task, lights=tuple(lights))


@record
class Search:
    """What one run of routing works with."""

    task: Task
    prices: Prices
    out: Allowance
    random: Random
    #: first layouts by distances, tour and the side laid first; None where a pad was cut off
    woven: dict[tuple[Room, Tour, int], Board | None]
    #: rough layouts that were polished before, and whether they could be kept
    tried: dict[tuple[object, ...], bool]


def search_of(task: Task, late: Callable[[], bool]) -> Search:
    """A run of routing for a task; `late` says when time is up."""
    return Search(task, prices_of(task.choices), Allowance(late), Random(task.choices.seed), {}, {})


class Level:
    """One set of distances with its empty board and the tours there."""

    def __init__(self, search: Search, room: Room) -> None:
        self.search = search
        self.board = Board(search.task, room)
        self.known: list[Tour] | None = None

    @property
    def tours(self) -> list[Tour]:
        if self.known is None:
            lands = Lands(self.board)
            count = 2 + 2 * max(1, self.search.task.choices.effort)
            found = orders(lands, count, self.search.random)
            self.known = [guided(lands, self.board, path, length) for length, path in found]
        return self.known


def timer(task: Task, clock: Clock | None, times: float = 1.0) -> Callable[[], bool]:
    """Says from now on whether the task's seconds, so many times over, have passed."""
    seconds = task.choices.seconds
    if clock is None or seconds is None:
        return lambda: False
    last = clock() + times * seconds
    return lambda: clock() > last


def rooms(task: Task) -> list[Room]:
    """Distances to try, from the aims down to the limits."""
    limits, corners = task.limits, task.choices.corners
    half = limits.width / 2.0
    past = least_overhang(limits.width, limits.joint_cover, corners)
    # what the corners of an end stick out more is within the tolerance
    half = max(half, (half * half + past * past) ** 0.5 - 0.8 * TOLERANCE)
    pitch = min(math.dist(*_middles(light)) for light in task.lights)
    found: list[Room] = []
    for part in (1.0, 0.5, 0.0):
        gap = limits.gap + part * (limits.aim_gap - limits.gap)
        gap = max(limits.gap, min(gap, pitch - 2.0 * half - 0.01))
        edge = limits.edge + part * (limits.aim_edge - limits.edge)
        least = limits.pad_cover
        cover = max(least, limits.pad_cover + part * (limits.aim_pad - limits.pad_cover))
        joint = limits.joint_cover + part * (limits.aim_joint - limits.joint_cover)
        room = Room(half, gap, edge, cover, least, joint * limits.width**2)
        if not found or dataclasses.astuple(room) != dataclasses.astuple(found[-1]):
            found.append(room)
    if half > limits.width / 2.0 + TOLERANCE:
        # where square ends at bends do not fit with that much to spare: they are looked at one
        # by one, once laid
        found.append(dataclasses.replace(found[-1], half=limits.width / 2.0))
    if any(fold.often for fold in task.folds):
        square = [dataclasses.replace(room, steepest=SQUARE) for room in found]
        return [*square, found[-1]]
    return found


def _middles(light: Light) -> list[tuple[float, float]]:
    return [(pad.centroid.x, pad.centroid.y) for pad in (light.positive, light.negative)]
