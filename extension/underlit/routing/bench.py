"""A board on the bench: what small changes need to know, and how one is made or taken back."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

import numpy as np

from .allowance import ATTEMPT, Allowance
from .board import Board
from .nets import Key
from .price import Prices, net_cost
from .strips import is_straight
from .tree import Tree

At = tuple[float, float]

#: Changes of cost below this are none (mm).
LEAST = 1e-3

#: No link is made shorter than this (mm).
SHORT = 0.5


class Bench:
    """One board with its prices; `out` counts moves and is asked between them."""

    def __init__(self, board: Board, prices: Prices, out: Allowance) -> None:
        self.board, self.prices, self.out = board, prices, out
        self.pad_at: list[dict[int, Key]] = [
            {node: key for key, node in tree.pad_node.items()} if tree else {}
            for tree in board.trees
        ]

        self.first_share = {
            key: pad_share(board, key, tree, tree.at[node])
            for tree in board.trees
            if tree
            for key, node in tree.pad_node.items()
        }
        self.calm: set[tuple[object, ...]] = set()
        #: the board's version and what each net costs in it
        self.known: dict[int, tuple[int, float]] = {}

    def tried(self, move: str, net: int, *nodes: int) -> bool:
        """Whether a move was tried in vain with these nodes and their neighbours as they are."""
        tree = self.tree(net)
        around = tuple((n, tree.at[n], *(tree.at[m] for m in tree.links[n])) for n in nodes)
        mark = (move, net, around)
        if mark in self.calm:
            return True
        self.calm.add(mark)
        return False

    def tree(self, net: int) -> Tree:
        tree = self.board.trees[net]
        assert tree is not None
        return tree

    def local(self, tree: Tree, nodes: Iterable[int], centre: int) -> float:
        """Length of the links at a node, less what straight ways save in runs."""
        length = sum(math.dist(tree.at[centre], tree.at[n]) for n in tree.links[centre])
        links = ((*tree.at[centre], *tree.at[n]) for n in tree.links[centre])
        length += self.board.windows.together(links)
        return length - self.prices.run * sum(straights(tree, n) for n in nodes)

    def covered(self, net: int, nodes: Iterable[int]) -> bool:
        """Whether the pads at these nodes are covered as wished, or no less than at first."""
        tree = self.tree(net)
        for node in nodes:
            key = self.pad_at[net].get(node)
            if key is not None and node not in tree.fixed:
                part = pad_share(self.board, key, tree, tree.at[node])
                if part < self.needed(key, len(tree.links[node])) - 1e-4:
                    return False
        return True

    def needed(self, key: Key, links: int) -> float:
        """Share of a pad to cover: an end need only reach its middle, it is drawn out later."""
        room, first = self.board.room, self.first_share[key]
        wished = room.least_cover if links < 2 else room.cover
        return min(wished, room.square / self.board.pad_area(key), max(first, room.least_cover))

    def attempt(
        self,
        net: int,
        change: Callable[[], None],
        rows: np.ndarray,
        nodes: list[int],
        ends: Iterable[int] = (),
    ) -> bool:
        """Make a change if its new links are legal, pads stay covered and the cost falls."""
        self.out.spend(ATTEMPT)
        board = self.board
        if (np.hypot(rows[:, 0] - rows[:, 2], rows[:, 1] - rows[:, 3]) < SHORT).any():
            return False
        if not board.legal(net, rows):
            return False
        tree = self.tree(net)
        kept = tree.copy()
        before = self.spent(net)
        change()
        after = net_cost(board, net, self.prices)
        if after < before - LEAST and self.covered(
            net, [n for n in [*nodes, *ends] if n in tree.at]
        ):
            board.changed(net)
            self.known[net] = (board.version, after)
            return True
        tree.restore(kept)
        return False

    def spent(self, net: int) -> float:
        """What a net costs now."""
        known = self.known.get(net)
        if known is None or known[0] != self.board.version:
            known = (self.board.version, net_cost(self.board, net, self.prices))
            self.known[net] = known
        return known[1]


def straights(tree: Tree, node: int) -> int:
    """How many pairs of links go straight through a node."""
    left = sorted(tree.links[node])
    if len(left) == 2:
        return int(is_straight(tree, left[0], node, left[1]))
    count = 0
    while len(left) > 1:
        a = left.pop()
        for b in left:
            if is_straight(tree, a, node, b):
                left.remove(b)
                count += 1
                break
    return count


def pad_share(board: Board, key: Key, tree: Tree, at: At) -> float:
    """Share of a pad covered by the links at its node, were the node at `at`."""
    around = [tree.at[n] for n in sorted(tree.links[tree.pad_node[key]])]
    if not around:
        return 0.0
    angle = board.angles[key[1]] if key[0] == "light" else 0.0
    return board.covered(key, angle, at, around)
