"""Strips that stay: free of charge for their own side, in the way of the other.

A pinned strip enters the graph of its net as a chain of places along its centre line, joined at
no cost. Pads that it covers stand on that chain. Nothing of a chain is ever moved or laid again.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_along
from .bench import SHORT
from .board import Board
from .middles import middle_lines
from .nets import Key
from .task import Pinned, Task
from .vgraph import Graph

#: Places along a pinned strip (mm).
EVERY = 8.0

#: A sketch is pulled straight within this (mm).
PULLED = 1.0

#: What a mm along a pinned strip costs: next to nothing, but ways on it stay short.
FREE = 1e-3

#: A place this near to a line lies on it (mm).
NEAR = 1e-6


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


def planned(board: Board, net: int) -> list[Pinned]:
    """The maker's sketch lines as strips of a net: of the side whose cell's pad is nearer."""
    found = []
    width = board.task.limits.width
    own = board.pad(board.nets[net].pads[0])
    others = [board.pad(n.pads[0]) for k, n in enumerate(board.nets) if k != net]
    for line in board.task.sketches:
        if all(own.distance(line) <= other.distance(line) for other in others):
            straight = line.simplify(PULLED)
            area = straight.buffer(width / 2.0, cap_style="flat")
            found.append(Pinned("", area, width, straight, board.nets[net].polarity))
    return found


def on_pin(board: Board, net: int, key: Key) -> tuple[int, Point] | None:
    """The strip (pinned, then planned) that covers a pad, and the place of the pad on its line."""
    pad = board.pad(key)
    limits = board.task.limits
    needed = min(limits.pad_cover * pad.area, limits.joint_cover * limits.width**2)
    for i, pin in enumerate(pins_of(board, net) + planned(board, net)):
        if pin.bare.intersection(pad).area >= needed - 1e-6:
            line = min(middle_lines(pin), key=pad.centroid.distance)
            return i, line.interpolate(line.project(pad.centroid))
    return None


def chains(
    board: Board, net: int, free: BaseGeometry, landed: Sequence[tuple[float, float]]
) -> tuple[np.ndarray, list[list[int]], list[list[int]], dict[int, tuple[float, float]]]:
    """Further places (n, 2), chains of pinned strips and of planned ones, where pads on them stand.

    Chains are lists of node numbers: pads first, then the further places. A planned strip is cut
    where it cannot be laid.
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
    pins = pins_of(board, net)
    sketched: list[list[int]] = []
    on: list[set[int]] = []
    for i, pin in enumerate(pins + planned(board, net)):
        lines = middle_lines(pin)
        met = Counter(end for line in lines for end in (line.coords[0], line.coords[-1]))
        known: dict[tuple[float, float], int] = {}
        standing = held.get(i, [])
        on.append(set(standing))
        for line in lines:
            stops = []
            for f in _stops(board, pin, line, landed, met):
                place = line.interpolate(f)
                # where the ways of one strip meet they share the node
                node = known.setdefault((place.x, place.y), len(keys) + len(extra))
                if node == len(keys) + len(extra):
                    extra.append((place.x, place.y))
                stops.append((f, node))
            on[i] |= {n for _, n in stops}
            here = [k for k in standing if line.distance(Point(moved[k])) < NEAR]
            standing = [k for k in standing if k not in here]
            stops += [(line.project(Point(moved[k])), k) for k in here]
            stops.sort()
            if i < len(pins):
                linked.append([n for _, n in stops])
            else:
                sketched += _possible(line, stops, free)
    at = {**moved, **{len(keys) + n: place for n, place in enumerate(extra)}}
    linked += _overlaps(board.task, pins, on, at)
    return np.array(extra).reshape(-1, 2), linked, sketched, moved


def _stops(
    board: Board,
    pin: Pinned,
    line: LineString,
    landed: Sequence[tuple[float, float]],
    met: Counter[tuple[float, ...]],
) -> list[float]:
    """Places (mm along it) of a strip's line that tape may come to.

    None nearer to an end than an overlap is long, but for ends at which ways of the strip meet.
    """
    inset = min(board.task.limits.width / 2.0, line.length / 3.0)
    first = 0.0 if met[line.coords[0]] > 1 else inset
    last = line.length - (0.0 if met[line.coords[-1]] > 1 else inset)
    far = {first, last}
    far |= set(np.arange(first, last, step_along(EVERY, line.length)).tolist())
    far |= {line.project(Point(p)) for p in line.coords[1:-1]}
    far |= {min(max(line.project(Point(p)), first), last) for p in landed}
    if pin.paper is not None:
        covered = pin.paper.buffer(board.room.half)
        far = {f for f in far if not covered.contains(line.interpolate(f))}
    return sorted(far)


def _overlaps(
    task: Task,
    pins: Sequence[Pinned],
    on: Sequence[set[int]],
    at: dict[int, tuple[float, float]],
) -> list[list[int]]:
    """Links between pinned strips that lie well enough on one another, near where they do."""
    if not task.choices.conducts:
        return []
    found = []
    for i, j in itertools.combinations(range(len(pins)), 2):
        both = pins[i].bare.intersection(pins[j].bare)
        least = task.limits.joint_cover * min(pins[i].width, pins[j].width) ** 2
        if both.area < least - NEAR or not on[i] or not on[j]:
            continue
        middle = both.representative_point().coords[0]
        n = _nearest(on[i], at, middle)
        # no link is without length
        apart = {m for m in on[j] if math.dist(at[n], at[m]) >= SHORT}
        if apart:
            found.append([n, _nearest(apart, at, middle)])
    return found


def _nearest(nodes: set[int], at: dict[int, tuple[float, float]], place: tuple[float, ...]) -> int:
    return min(sorted(nodes), key=lambda n: math.dist(at[n], place))


def _possible(
    line: LineString, stops: Sequence[tuple[float, int]], free: BaseGeometry
) -> list[list[int]]:
    """A planned strip's chain, cut where the way between two stops is not free."""
    found: list[list[int]] = [[stops[0][1]]]
    for (f, _), (g, n) in pairwise(stops):
        a, b = line.interpolate(f), line.interpolate(g)
        if f < g and free.covers(LineString([a, b])):
            found[-1].append(n)
        elif f < g:
            found.append([n])
        else:
            found[-1].append(n)
    return [chain for chain in found if len(chain) > 1]


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
