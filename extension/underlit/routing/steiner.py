"""A cheap tree over the terminals of a graph.

Shortest-path heuristic (Takahashi and Matsuyama 1980), then key-path exchange (Uchoa and
Werneck): take a way between two junctions out, join the halves again as cheaply as can be.
"""

from __future__ import annotations

import itertools

from .vgraph import Graph, shortest

Links = dict[int, set[int]]


def steiner_tree(graph: Graph, terminals: list[int], start: int) -> tuple[Links, list[int]]:
    """Links of a tree from `start` over all terminals that can be reached, and those cut off."""
    tree: Links = {start: set()}
    left = [t for t in terminals if t != start]
    while left:
        way = shortest(graph, sorted(tree), set(left))
        if way is None:
            break
        _add(tree, way)
        left = [t for t in left if t not in tree]
    exchange(graph, tree, set(terminals))
    return tree, left


def _add(tree: Links, way: list[int]) -> None:
    for a, b in itertools.pairwise(way):
        tree.setdefault(a, set()).add(b)
        tree.setdefault(b, set()).add(a)


def exchange(graph: Graph, tree: Links, terminals: set[int]) -> None:
    """Key-path exchange until nothing gets cheaper. Paths are looked up anew after each change."""
    weight = {(i, j): w for i, row in enumerate(graph.links) for j, w in row}
    for _ in range(12):
        better = False
        for path in key_paths(tree, terminals):
            if not _still_there(tree, path, terminals):
                continue
            old = sum(weight[a, b] for a, b in itertools.pairwise(path))
            _remove(tree, path)
            side = _component(tree, path[0])
            way = shortest(graph, sorted(side), set(tree) - side, old)
            if way is not None:
                new = sum(weight[a, b] for a, b in itertools.pairwise(way))
                if new < old - 1e-6:
                    _add(tree, way)
                    better = True
                    continue
            _add(tree, path)
        if not better:
            break
    prune(tree, terminals)


def _still_there(tree: Links, path: list[int], terminals: set[int]) -> bool:
    """Whether a path found earlier is still one between two junctions."""
    if any(b not in tree.get(a, ()) for a, b in itertools.pairwise(path)):
        return False
    return all(len(tree[n]) == 2 and n not in terminals for n in path[1:-1])


def prune(tree: Links, terminals: set[int]) -> None:
    """Take off dead ends that are no terminals."""
    todo = [n for n in sorted(tree) if len(tree[n]) < 2 and n not in terminals]
    while todo:
        node = todo.pop()
        for other in tree.pop(node):
            tree[other].discard(node)
            if len(tree[other]) < 2 and other not in terminals:
                todo.append(other)


def key_paths(tree: Links, terminals: set[int]) -> list[list[int]]:
    """Ways between terminals or junctions, by node order."""
    keys = {n for n, links in tree.items() if n in terminals or len(links) != 2}
    found = []
    for start in sorted(keys):
        for step in sorted(tree[start]):
            path = [start, step]
            while path[-1] not in keys:
                path.append(next(n for n in tree[path[-1]] if n != path[-2]))
            if path[0] < path[-1]:
                found.append(path)
    return found


def _remove(tree: Links, path: list[int]) -> None:
    for a, b in itertools.pairwise(path):
        tree[a].discard(b)
        tree[b].discard(a)
    for node in path[1:-1]:
        tree.pop(node, None)


def _component(tree: Links, start: int) -> set[int]:
    seen, todo = {start}, [start]
    while todo:
        for other in tree[todo.pop()]:
            if other not in seen:
                seen.add(other)
                todo.append(other)
    return seen
