"""Reference length: a short Euclidean Steiner tree, nothing in its way.

From the minimum spanning tree: junctions where two links leave a node under 120 degrees, moved
to their best place, then a new spanning tree over all; repeated while it gets shorter.
"""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np

from .fermat import At, middle, steiner_point

#: Up to this many places junctions are also sought one by one.
FEW = 14

#: Up to this many, trees are also grown from a hub between any three.
LEAST = 7


def spanning_tree(points: np.ndarray) -> list[tuple[int, int]]:
    """Links of a minimum spanning tree (Prim) of (n, 2) points."""
    n = len(points)
    if n < 2:
        return []
    far = np.hypot(*(points - points[0]).T)
    near = np.zeros(n, dtype=int)
    far[0] = np.inf
    links = []
    left = np.ones(n, dtype=bool)
    left[0] = False
    for _ in range(n - 1):
        k = int(np.argmin(np.where(left, far, np.inf)))
        links.append((int(near[k]), k))
        left[k] = False
        new = np.hypot(*(points - points[k]).T)
        closer = left & (new < far)
        far[closer], near[closer] = new[closer], k
    return links


def steiner_length(terminals: list[At], rounds: int = 8) -> float:
    """Length (mm) of a short Steiner tree over places."""
    return tree_length(*steiner_points(terminals, rounds))


def tree_length(points: list[At], links: list[tuple[int, int]]) -> float:
    return sum(math.dist(points[a], points[b]) for a, b in links)


def steiner_points(terminals: list[At], rounds: int = 8) -> tuple[list[At], list[tuple[int, int]]]:
    """Terminals with junctions behind them, and the links of the tree."""
    n = len(terminals)
    starts: list[list[At]] = [_inserted(terminals) if 3 <= n <= FEW else []]
    if 3 <= n <= LEAST:
        hubs = (steiner_point(*three) for three in combinations(terminals, 3))
        starts += [[hub] for hub in hubs if hub is not None]
    trees = [_improved(terminals, start, rounds) for start in starts]
    return min(trees, key=lambda tree: tree_length(*tree))


def _improved(
    terminals: list[At], extra: list[At], rounds: int
) -> tuple[list[At], list[tuple[int, int]]]:
    """The tree over terminals and first junctions, made shorter while it gets shorter."""
    n = len(terminals)
    points = terminals + extra
    links = spanning_tree(np.array(points, dtype=float))
    points, links = _relaxed_tree(points, links, n)
    best = tree_length(points, links)
    kept = (points, links)
    for number in range(rounds):
        points, near = _with_junctions(points, links, n)
        points, near = _relaxed(points, near, n)
        points = [p for i, p in enumerate(points) if i < n or len(near[i]) > 2]
        links = spanning_tree(np.array(points, dtype=float))
        now = tree_length(points, links)
        if number and now > best - 1e-4 * best:
            break
        if now < best:
            best, kept = now, (points, links)
    return kept


def _relaxed_tree(
    points: list[At], links: list[tuple[int, int]], n: int
) -> tuple[list[At], list[tuple[int, int]]]:
    """A tree with its junctions moved to their best places."""
    near: list[set[int]] = [set() for _ in points]
    for a, b in links:
        near[a].add(b)
        near[b].add(a)
    moved, _ = _relaxed(list(points), near, n)
    return moved, links


def _inserted(terminals: list[At]) -> list[At]:
    """Junctions whose spanning tree is shorter, one after another (iterated 1-Steiner)."""
    extra: list[At] = []
    best = tree_length(terminals, spanning_tree(np.array(terminals, dtype=float)))
    for _ in range(len(terminals) - 2):
        points = terminals + extra
        choice: tuple[float, At] | None = None
        for a, b, c in _triples(points):
            s = steiner_point(points[a], points[b], points[c])
            if s is None:
                continue
            new = [*points, s]
            length = tree_length(new, spanning_tree(np.array(new, dtype=float)))
            if length < best - 1e-9 and (choice is None or length < choice[0]):
                choice = (length, s)
        if choice is None:
            return extra
        best, s = choice
        extra.append(s)
    return extra


def _triples(points: list[At]) -> list[tuple[int, int, int]]:
    """Neighbours in the spanning tree with a third place near to one of them."""
    far = np.hypot(*(np.array(points)[:, None] - np.array(points)[None]).transpose(2, 0, 1))
    nearest = np.argsort(far, axis=1)[:, 1:7]
    found = set()
    for a, b in spanning_tree(np.array(points, dtype=float)):
        for c in {*nearest[a].tolist(), *nearest[b].tolist()} - {a, b}:
            x, y, z = sorted((a, b, c))
            found.add((x, y, z))
    return sorted(found)


def _with_junctions(
    points: list[At], links: list[tuple[int, int]], n: int
) -> tuple[list[At], list[set[int]]]:
    points = list(points)
    near: list[set[int]] = [set() for _ in points]
    for a, b in links:
        near[a].add(b)
        near[b].add(a)
    while True:
        best: tuple[float, int, int, int, At] | None = None
        changed = False
        for node in range(len(points)):
            best = None
            around = sorted(near[node])
            for i, a in enumerate(around):
                for b in around[i + 1 :]:
                    s = steiner_point(points[node], points[a], points[b])
                    if s is None:
                        continue
                    gain = math.dist(points[node], points[a]) + math.dist(points[node], points[b])
                    gain -= sum(math.dist(s, points[k]) for k in (node, a, b))
                    if gain > 1e-6 and (best is None or gain > best[0]):
                        best = (gain, node, a, b, s)
            if best is not None:
                _, v, a, b, s = best
                new = len(points)
                points.append(s)
                near.append({v, a, b})
                for k in (a, b):
                    near[v].discard(k)
                    near[k].discard(v)
                    near[k].add(new)
                near[v].add(new)
                changed = True
        if not changed or len(points) > 3 * n:
            return points, near


def _relaxed(points: list[At], near: list[set[int]], n: int) -> tuple[list[At], list[set[int]]]:
    for _ in range(30):
        moved = 0.0
        for i in range(n, len(points)):
            if len(near[i]) > 1:
                new = middle([points[k] for k in sorted(near[i])], points[i])
                moved = max(moved, math.dist(new, points[i]))
                points[i] = new
        if moved < 1e-3:
            break
    return points, near
