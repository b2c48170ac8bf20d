"""A way past all lights: it decides how they turn, and which side of it is plus.

The tape of either side could run along its two banks, so a card that has room for the way has
a layout. Short open paths from the cell: nearest neighbour, then 2-opt and or-opt.
"""

from __future__ import annotations

import itertools
import math
from random import Random

import numpy as np
import shapely

from ..records import record
from .board import Board
from .vgraph import Graph, reach, shortest, visibility


@record
class Tour:
    """Order of lights, the way as a line of points, angle of each light, and its length."""

    order: tuple[int, ...]
    way: tuple[tuple[float, float], ...]
    angles: tuple[float, ...]
    length: float


class Lands:
    """Distances between the cell's exits and the lights around all obstacles."""

    def __init__(self, board: Board) -> None:
        task = board.task
        first, last = board.net_of["cell", 0, "positive"], len(board.nets) - 1
        plus, minus = task.cells[0].positive.centroid, task.cells[0].negative.centroid
        self.plus, self.minus = (plus.x, plus.y), (minus.x, minus.y)
        lights = [light.at for light in task.lights]
        free = board.free[first].intersection(board.free[last])
        self.exits = _exits(self.plus, self.minus, task.cells[0].body)
        points = [_inside(free, p) for p in [*self.exits, *lights]]
        self.graph: Graph = visibility(free, np.array(points), 0.0)
        self.true = [*self.exits, *lights]
        n = len(points)
        self.far = np.empty((n, n))
        for i in range(n):
            cost = reach(self.graph, i)
            for j in range(n):
                straight = math.dist(points[i], points[j])
                self.far[i, j] = cost.get(j, 10.0 * straight + 1000.0)

    def way(self, a: int, b: int) -> list[tuple[float, float]]:
        """Points of the shortest way between two places."""
        found = shortest(self.graph, [a], {b})
        inner = [tuple(self.graph.at[i].tolist()) for i in found[1:-1]] if found else []
        return [self.true[a], *inner, self.true[b]]


def _inside(free: shapely.Geometry, p: tuple[float, float]) -> tuple[float, float]:
    point = shapely.Point(p)
    if free.is_empty or free.contains(point):
        return p
    near = shapely.get_point(shapely.shortest_line(free.buffer(-0.05), point), 0)
    return p if near is None or near.is_empty else (near.x, near.y)


def _exits(
    plus: tuple[float, float], minus: tuple[float, float], body: shapely.Geometry
) -> list[tuple[float, float]]:
    """Places to both sides of the cell, off the line between its pads."""
    ax, ay = plus[0] - minus[0], plus[1] - minus[1]
    size = math.hypot(ax, ay) or 1.0
    mx, my = (plus[0] + minus[0]) / 2.0, (plus[1] + minus[1]) / 2.0
    off = 0.3 * size
    return [
        (mx - ay / size * off, my + ax / size * off),
        (mx + ay / size * off, my - ax / size * off),
    ]


def orders(lands: Lands, count: int, random: Random) -> list[tuple[float, tuple[int, ...]]]:
    """Up to `count` different short open paths (exit first), shortest first."""
    n = len(lands.true)
    found: dict[tuple[int, ...], float] = {}
    tries = 0
    while len(found) < 2 * count and tries < 6 * count + 4:
        start = tries % 2
        path = _greedy(lands.far, start, n, random if tries >= 2 else None)
        path = _improve(lands.far, path)
        length = float(sum(lands.far[a, b] for a, b in itertools.pairwise(path)))
        found.setdefault(tuple(path), length)
        tries += 1
    ranked = sorted((length, path) for path, length in found.items())
    return ranked[:count]


def _greedy(far: np.ndarray, start: int, n: int, random: Random | None) -> list[int]:
    path, left = [start], list(range(2, n))
    while left:
        near = sorted(left, key=lambda j: far[path[-1], j])
        pick = near[0]
        if random is not None and len(near) > 1 and random.random() < 0.3:
            pick = near[min(len(near) - 1, random.randrange(1, 3))]
        path.append(pick)
        left.remove(pick)
    return path


def _improve(far: np.ndarray, path: list[int]) -> list[int]:
    """2-opt and or-opt of an open path with a fixed start."""
    p = np.array(path)
    for _ in range(200):
        gain, move = _best_two_opt(far, p)
        if gain > -1e-9:
            other = _or_opt(far, p)
            if other is None:
                break
            p = other
        else:
            i, j = move
            p[i : j + 1] = p[i : j + 1][::-1]
    return [int(k) for k in p]


def _best_two_opt(far: np.ndarray, p: np.ndarray) -> tuple[float, tuple[int, int]]:
    """Reversing p[i..j], 1 <= i < j: the best change of length."""
    n = len(p)
    before = far[p[:-1], p[1:]]
    i = np.arange(1, n)[:, None]
    j = np.arange(1, n)[None, :]
    ends = np.append(before, 0.0)
    joined = far[p[i - 1], p[j]]
    nxt = np.append(p[1:], p[-1])
    tail = np.where(j < n - 1, far[p[i], nxt[j]], 0.0)
    change = joined + tail - ends[i - 1] - np.where(j < n - 1, ends[j], 0.0)
    change = np.where(i < j, change, 0.0)
    k = int(np.argmin(change))
    a, b = divmod(k, n - 1)
    return float(change[a, b]), (a + 1, b + 1)


def _or_opt(far: np.ndarray, p: np.ndarray) -> np.ndarray | None:
    """Move a run of up to three lights elsewhere; the first change that shortens."""
    n = len(p)
    for size in (1, 2, 3):
        for i in range(1, n - size + 1):
            run = p[i : i + size]
            rest = np.concatenate([p[:i], p[i + size :]])
            old = far[p[i - 1], run[0]]
            if i + size < n:
                old += far[run[-1], p[i + size]] - far[p[i - 1], p[i + size]]
            after = np.append(far[rest[:-1], rest[1:]], 0.0)
            nxt = np.append(rest[1:], rest[-1])
            for piece in (run, run[::-1]):
                tail = np.where(np.arange(len(rest)) < len(rest) - 1, far[piece[-1], nxt], 0.0)
                change = far[rest, piece[0]] + tail - after - old
                k = int(np.argmin(change))
                if change[k] < -1e-9:
                    result: np.ndarray = np.concatenate([rest[: k + 1], piece, rest[k + 1 :]])
                    return result
    return None


def guided(lands: Lands, board: Board, path: tuple[int, ...], length: float) -> Tour:
    """The tour's line and the angle of each light: plus on the bank where the cell has it."""
    points: list[tuple[float, float]] = []
    at: dict[int, int] = {}
    for a, b in itertools.pairwise(path):
        way = lands.way(a, b)
        points += way if not points else way[1:]
        at[b] = len(points) - 1
    side = _side(lands, points)
    angles = [light.angle for light in board.task.lights]
    for node, k in at.items():
        i = node - 2
        light = board.task.lights[i]
        if light.turn != "locked":
            wanted = math.degrees(math.atan2(*_across(points, k, side)[::-1]))
            own = _own_angle(light)
            angles[i] = (_snapped(wanted, light.turn) - own) % 360.0
    centre = ((lands.plus[0] + lands.minus[0]) / 2, (lands.plus[1] + lands.minus[1]) / 2)
    return Tour(tuple(n - 2 for n in path[1:]), (centre, *points), tuple(angles), length)


def _own_angle(light: object) -> float:
    """Direction from minus pad to plus pad in the light's own frame."""
    plus, minus = light.positive.centroid, light.negative.centroid  # type: ignore[attr-defined]
    return math.degrees(math.atan2(plus.y - minus.y, plus.x - minus.x))


def _snapped(angle: float, turn: str) -> float:
    """The nearest turn that a light may have; eighths are counted from the page's axes."""
    return 45.0 * round(angle / 45.0) if turn == "45" else round(angle, 2)


def _side(lands: Lands, points: list[tuple[float, float]]) -> float:
    """1 or -1: on which bank of the way the cell's plus pad lies."""
    mx, my = (lands.plus[0] + lands.minus[0]) / 2, (lands.plus[1] + lands.minus[1]) / 2
    dx, dy = points[0][0] - mx, points[0][1] - my
    ax, ay = lands.plus[0] - lands.minus[0], lands.plus[1] - lands.minus[1]
    return 1.0 if dx * ay - dy * ax > 0 else -1.0


def _across(points: list[tuple[float, float]], k: int, side: float) -> tuple[float, float]:
    """The direction square to the way at its point k, towards the plus bank."""
    ix, iy = _unit(points[k - 1], points[k])
    if k + 1 < len(points):
        ox, oy = _unit(points[k], points[k + 1])
    else:
        ox, oy = ix, iy
    tx, ty = ix + ox, iy + oy
    if math.hypot(tx, ty) < 0.3:
        # turning back: the lights' feet lie along the way, plus on the outer bank's side
        tx, ty = iy, -ix
    return (-ty * side, tx * side)


def _unit(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = math.hypot(dx, dy) or 1.0
    return dx / size, dy / size
