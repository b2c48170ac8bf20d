"""Centre lines of one net as a tree of numbered nodes."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from .nets import Key


class Tree:
    """Centre lines of one net: numbered nodes, links, and the node at each pad."""

    def __init__(self) -> None:
        self.at: dict[int, tuple[float, float]] = {}
        self.links: dict[int, set[int]] = {}
        self.pad_node: dict[Key, int] = {}
        self.next = 0
        #: nodes of pinned strips, and the links along them
        self.fixed: set[int] = set()
        self.pinned: set[tuple[int, int]] = set()
        #: of these, the ones still to be laid (from sketches)
        self.planned: set[tuple[int, int]] = set()

    def add(self, at: tuple[float, float]) -> int:
        """A new node."""
        node = self.next
        self.next += 1
        self.at[node] = at
        self.links[node] = set()
        return node

    def link(self, a: int, b: int) -> None:
        self.links[a].add(b)
        self.links[b].add(a)

    def unlink(self, a: int, b: int) -> None:
        self.links[a].discard(b)
        self.links[b].discard(a)

    def drop(self, node: int) -> None:
        for other in self.links.pop(node):
            self.links[other].discard(node)
        del self.at[node]

    def edges(self) -> Iterator[tuple[int, int]]:
        for a, others in self.links.items():
            for b in sorted(others):
                if a < b:
                    yield a, b

    def segments(self, stays: bool = True) -> np.ndarray:
        """(n, 4) of all links; those along strips that stay as they are only where `stays`."""
        kept = set() if stays else self.pinned - self.planned
        rows = [(*self.at[a], *self.at[b]) for a, b in self.edges() if (a, b) not in kept]
        if not rows and not kept:
            rows = [(*p, *p) for p in list(self.at.values())[:1]]
        return np.array(rows, dtype=float).reshape(-1, 4)

    def is_pinned(self, a: int, b: int) -> bool:
        return (min(a, b), max(a, b)) in self.pinned

    def length(self) -> float:
        return sum(
            math.dist(self.at[a], self.at[b]) for a, b in self.edges() if (a, b) not in self.pinned
        )

    def restore(self, kept: Tree) -> None:
        """Become as the copy was."""
        self.__dict__.update(kept.__dict__)

    def copy(self) -> Tree:
        new = Tree()
        new.at = dict(self.at)
        new.links = {n: set(o) for n, o in self.links.items()}
        new.pad_node = dict(self.pad_node)
        new.next = self.next
        new.fixed = set(self.fixed)
        new.pinned = set(self.pinned)
        new.planned = set(self.planned)
        return new
