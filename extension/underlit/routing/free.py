"""Where centre lines of a net may run: the base less all that tape keeps away from.

Strips are thought of as discs of half the tape's width drawn along centre lines, so that a
centre line has to keep half a width more than the tape. Ends are cut square at the node and
may be drawn out later; round corners and square ends stay inside the discs.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..records import record
from .folds import STEEPEST
from .nets import NetSpec, fixed_pad
from .task import Pinned, Task

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
    #: least angle between tape and a fold that moves often (degrees)
    steepest: float = STEEPEST


def free_area(task: Task, room: Room, net: int, nets: tuple[NetSpec, ...]) -> BaseGeometry:
    """Where centre lines of a net may run, lights and other tape left out of account.

    Beside the maker's own strips of that side, which may be nearer to something than the aims
    have it, the least distances do.
    """
    area = _free_at(task, room, net, nets)
    own = [pin.area for pin in task.pinned if pin.polarity == nets[net].polarity]
    limits = task.limits
    if not own or (room.gap <= limits.gap and room.edge <= limits.edge):
        return area
    least = replace(room, gap=limits.gap, edge=limits.edge)
    beside = shapely.union_all(own).buffer(limits.width)
    return area.union(_free_at(task, least, net, nets).intersection(beside))


def _free_at(task: Task, room: Room, net: int, nets: tuple[NetSpec, ...]) -> BaseGeometry:
    """The same with the same distances everywhere."""
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
            taken += _taken_by_pin(pin, room, task.limits.gap, task.limits.width)
    inner = task.base.buffer(-(room.edge + room.half), quad_segs=8)
    return inner.difference(shapely.union_all(taken)) if taken else inner


def _taken_by_pin(pin: Pinned, room: Room, least: float, width: float) -> list[BaseGeometry]:
    """Where a pinned strip keeps tape of the other side away: not where paper lies on it.

    Beside the paper, which the maker cut for a crossing, the least gap does.
    """
    if pin.paper is None:
        return [grown(pin.area, room.gap + room.half)]
    beside = pin.paper.buffer(width)
    aimed = [area.difference(beside) for area in _round_paper(pin, pin.paper, room.gap, room.half)]
    return [*aimed, *_round_paper(pin, pin.paper, least, room.half)]


def _round_paper(pin: Pinned, paper: BaseGeometry, gap: float, half: float) -> list[BaseGeometry]:
    near = grown(pin.area, gap).difference(paper)
    return [grown(pin.area.difference(paper), gap + half), grown(near, half)]


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
