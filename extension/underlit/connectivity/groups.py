"""Disjoint sets of numbers: which conductors belong together."""

from __future__ import annotations

from collections.abc import Iterable


def connected(count: int, pairs: Iterable[tuple[int, int]]) -> list[int]:
    """Label of each of `count` things: the least member of the set it is joined to."""
    parent = list(range(count))
    for a, b in pairs:
        root_a, root_b = _root(parent, a), _root(parent, b)
        if root_a != root_b:
            parent[max(root_a, root_b)] = min(root_a, root_b)
    return [_root(parent, i) for i in range(count)]


def members(labels: Iterable[int]) -> dict[int, list[int]]:
    """label -> the numbers that carry it, in rising order."""
    found: dict[int, list[int]] = {}
    for i, label in enumerate(labels):
        found.setdefault(label, []).append(i)
    return found


def _root(parent: list[int], i: int) -> int:
    while parent[i] != i:
        parent[i] = parent[parent[i]]
        i = parent[i]
    return i
