"""Strips that stay: free of charge for their own side, in the way of the other.

A pinned strip enters the graph of its net as a chain of places along its centre line, joined at
no cost. Pads that it covers stand on that chain. Nothing of a chain is ever moved or laid again.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from .board import Board, Key
from .task import Pinned, Task
from .vgraph import Graph

#: Places along a pinned strip (mm).
EVERY = 8.0

#: What a mm along a pinned strip costs: next to nothing, but ways on it stay short.
FREE = 1e-3


def middle_line(pin: Pinned) -> LineString:
    """Centre line of a pinned strip; of a filled one the middle of its narrowest box."""
    if pin.line is not None:
        return pin.line
    box = shapely.get_coordinates(shapely.minimum_rotated_rectangle(pin.area))[:4]
    if np.hypot(*(box[1] - box[0])) > np.hypot(*(box[2] - box[1])):
        box = np.roll(box, -1, axis=0)
    return LineString([(box[0] + box[1]) / 2.0, (box[2] + box[3]) / 2.0])


def own_pins(task: Task, polarity: str) -> list[Pinned]:
    """Pinned strips of a side, in their order."""
    return [pin for pin in task.pinned if pin.polarity == polarity]


def pins_of(board: Board, net: int) -> list[Pinned]:
    """Pinned strips that a net may use: of its side (with parts in line: those on its pads)."""
    pins = own_pins(board.task, board.nets[net].polarity)
    if len(board.nets) == 2:
        return pins
    pads = [board.pad(key) for key in board.nets[net].pads]
    return [pin for pin in pins if any(pin.area.intersects(pad) for pad in pads)]


def on_pin(board: Board, net: int, key: Key) -> tuple[int, Point] | None:
    """The pinned strip that covers a pad well enough, and the place of the pad on its line."""
    pad = board.pad(key)
    limits = board.task.limits
    needed = min(limits.pad_cover * pad.area, limits.joint_cover * limits.width**2)
    for i, pin in enumerate(pins_of(board, net)):
        if pin.area.intersection(pad).area >= needed - 1e-6:
            line = middle_line(pin)
            return i, line.interpolate(line.project(pad.centroid))
    return None


def chains(
    board: Board, net: int, landed: Sequence[tuple[float, float]]
) -> tuple[np.ndarray, list[list[int]], dict[int, tuple[float, float]]]:
    """Further places (n, 2), chains of node numbers, and where pads on chains stand.

    Nodes are numbered pads first, then the further places.
    """
    keys = board.nets[net].pads
    extra: list[tuple[float, float]] = []
    linked: list[list[int]] = []
    moved: dict[int, tuple[float, float]] = {}
    held: dict[int, list[int]] = {}
    for k, key in enumerate(keys):
        hit = on_pin(board, net, key)
        if hit is not None:
            held.setdefault(hit[0], []).append(k)
            moved[k] = (hit[1].x, hit[1].y)
    for i, pin in enumerate(pins_of(board, net)):
        line = middle_line(pin)
        inset = min(board.task.limits.width / 2.0, line.length / 3.0)
        far = {inset, line.length - inset}
        far |= set(np.arange(inset, line.length - inset, EVERY).tolist())
        far |= {line.project(Point(p)) for p in line.coords[1:-1]}
        far |= {min(max(line.project(Point(p)), inset), line.length - inset) for p in landed}
        stops = [(f, len(keys) + len(extra) + j) for j, f in enumerate(sorted(far))]
        extra += [(line.interpolate(f).x, line.interpolate(f).y) for f, _ in stops]
        stops += [(line.project(Point(moved[k])), k) for k in held.get(i, [])]
        linked.append([n for _, n in sorted(stops)])
    return np.array(extra).reshape(-1, 2), linked, moved


def join_chains(graph: Graph, linked: Sequence[Sequence[int]]) -> None:
    """Link the places of every chain at next to no cost."""
    for chain in linked:
        for a, b in itertools.pairwise(chain):
            far = float(np.hypot(*(graph.at[a] - graph.at[b]))) * FREE
            for i, j in ((a, b), (b, a)):
                graph.links[i] = [(n, w) for n, w in graph.links[i] if n != j] + [(j, far)]


def in_the_way(task: Task, polarity: str) -> list[BaseGeometry]:
    """Pinned strips that tape of a side keeps away from."""
    return [pin.area for pin in task.pinned if pin.polarity != polarity]
