"""Visibility graph of a free area: every shortest centre line runs along its links.

A link between two corners of the area can only lie on a shortest way where it touches both
without cutting into them ("taut"); testing that first leaves few links to be tested against
the area. The terminals and corners stand in a fixed order, so results repeat.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

#: Corners are moved this far into the area (mm), off its boundary.
INSIDE = 0.02


class Graph:
    """Nodes with positions and weighted links; `weight` of a link is length and price."""

    def __init__(self, at: np.ndarray, links: list[list[tuple[int, float]]]) -> None:
        self.at = at
        self.links = links


def visibility(
    free: BaseGeometry, terminals: np.ndarray, price: float, round_: BaseGeometry | None = None
) -> Graph:
    """Graph over terminals (first) and reflex corners of the free area; price mm per link.

    `round_` is an area that may be crossed but is worth going round.
    """
    corners, back, forth = reflex_corners(free)
    if round_ is not None:
        more = reflex_corners(free.difference(round_))
        inner = shapely.intersects_xy(round_, corners) if len(corners) else np.zeros(0, dtype=bool)
        corners = np.concatenate([corners[inner], more[0]])
        back = np.concatenate([back[inner], more[1]])
        forth = np.concatenate([forth[inner], more[2]])
    at = np.concatenate([terminals, corners]) if len(corners) else terminals
    pairs = _taut_pairs(at, len(terminals), back, forth)
    if len(pairs):
        shapely.prepare(free)
        lines = shapely.linestrings(at[pairs])
        pairs = pairs[shapely.covers(free, lines)]
    links: list[list[tuple[int, float]]] = [[] for _ in at]
    lengths = np.hypot(*(at[pairs[:, 0]] - at[pairs[:, 1]]).T) + price
    for (i, j), weight in zip(pairs.tolist(), lengths.tolist(), strict=True):
        links[i].append((j, weight))
        links[j].append((i, weight))
    return Graph(at, links)


def charge(graph: Graph, price: Callable[[np.ndarray], np.ndarray]) -> None:
    """Add to every link what `price` asks for (k, 4) straight lines."""
    pairs = [(i, j) for i, links in enumerate(graph.links) for j, _ in links if i < j]
    if not pairs:
        return
    index = np.array(pairs)
    rows = np.concatenate([graph.at[index[:, 0]], graph.at[index[:, 1]]], axis=1)
    add = dict(zip(pairs, price(rows).tolist(), strict=True))
    for i, links in enumerate(graph.links):
        graph.links[i] = [(j, w + add[min(i, j), max(i, j)]) for j, w in links]


def keep_links(graph: Graph, allowed: Callable[[np.ndarray], np.ndarray]) -> None:
    """Drop every link that is not allowed as a straight line (k, 4)."""
    pairs = [(i, j) for i, links in enumerate(graph.links) for j, _ in links if i < j]
    if not pairs:
        return
    index = np.array(pairs)
    rows = np.concatenate([graph.at[index[:, 0]], graph.at[index[:, 1]]], axis=1)
    good = {p for p, ok in zip(pairs, allowed(rows).tolist(), strict=True) if ok}
    for i, links in enumerate(graph.links):
        graph.links[i] = [(j, w) for j, w in links if (min(i, j), max(i, j)) in good]


def reflex_corners(free: BaseGeometry) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Corners (n, 2) a little inside, with the directions to both neighbours."""
    found, back, forth = [], [], []
    for polygon in shapely.get_parts(free):
        for number, ring in enumerate((polygon.exterior, *polygon.interiors)):
            points = shapely.get_coordinates(ring)[:-1]
            if len(points) < 3:
                continue
            x, y = points.T
            area = float(np.dot(x, np.roll(y, -1)) - np.dot(np.roll(x, -1), y))
            if (area > 0) != (number == 0):
                points = points[::-1]
            before, after = np.roll(points, 1, axis=0), np.roll(points, -1, axis=0)
            u, v = points - before, after - points
            cross = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
            size = np.hypot(*u.T) * np.hypot(*v.T)
            reflex = cross < -1e-3 * size
            n = np.stack([-(u[:, 1]), u[:, 0]], axis=1) / np.hypot(*u.T)[:, None]
            m = np.stack([-(v[:, 1]), v[:, 0]], axis=1) / np.hypot(*v.T)[:, None]
            inward = n + m
            inward /= np.maximum(np.hypot(*inward.T), 1e-9)[:, None]
            found.append((points + INSIDE * inward)[reflex])
            back.append(-u[reflex])
            forth.append(v[reflex])
    if not found:
        return np.zeros((0, 2)), np.zeros((0, 2)), np.zeros((0, 2))
    return np.concatenate(found), np.concatenate(back), np.concatenate(forth)


def _taut_pairs(at: np.ndarray, fixed: int, back: np.ndarray, forth: np.ndarray) -> np.ndarray:
    """(k, 2) pairs i < j that are taut at every corner (terminals may be left in any way)."""
    n = len(at)
    ok = np.ones((n, n), dtype=bool)
    if n > fixed:
        way = at[None, :, :] - at[fixed:, None, :]
        c1 = way[..., 0] * back[:, None, 1] - way[..., 1] * back[:, None, 0]
        c2 = way[..., 0] * forth[:, None, 1] - way[..., 1] * forth[:, None, 0]
        size = np.hypot(way[..., 0], way[..., 1])
        e1 = 0.05 * np.hypot(*back.T)[:, None] * np.maximum(size, 1e-9)
        e2 = 0.05 * np.hypot(*forth.T)[:, None] * np.maximum(size, 1e-9)
        e1, e2 = e1 * 0.2, e2 * 0.2
        taut = ((c1 >= -e1) & (c2 >= -e2)) | ((c1 <= e1) & (c2 <= e2))
        ok[fixed:, :] &= taut
        ok[:, fixed:] &= taut.T
    i, j = np.nonzero(np.triu(ok, 1))
    result: np.ndarray = np.stack([i, j], axis=1)
    return result


def shortest(
    graph: Graph, sources: list[int], goals: set[int], limit: float = math.inf
) -> list[int] | None:
    """The cheapest way from any source to the nearest goal (nodes from source to goal)."""
    cost = dict.fromkeys(sources, 0.0)
    came: dict[int, int] = {}
    heap = [(0.0, s) for s in sources]
    heapq.heapify(heap)
    done: set[int] = set()
    while heap:
        far, node = heapq.heappop(heap)
        if node in done:
            continue
        if node in goals:
            way = [node]
            while way[-1] in came:
                way.append(came[way[-1]])
            return way[::-1]
        if far > limit:
            return None
        done.add(node)
        for other, weight in graph.links[node]:
            new = far + weight
            if new < cost.get(other, math.inf):
                cost[other] = new
                came[other] = node
                heapq.heappush(heap, (new, other))
    return None


def reach(graph: Graph, source: int) -> dict[int, float]:
    """Cost of the cheapest way from a node to every node that can be reached."""
    cost = {source: 0.0}
    heap = [(0.0, source)]
    done: set[int] = set()
    while heap:
        far, node = heapq.heappop(heap)
        if node in done:
            continue
        done.add(node)
        for other, weight in graph.links[node]:
            new = far + weight
            if new < cost.get(other, math.inf):
                cost[other] = new
                heapq.heappush(heap, (new, other))
    return cost
