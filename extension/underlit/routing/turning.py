"""Lights turned a little, their tape with them."""

from __future__ import annotations

import math

import numpy as np

from .bench import Bench
from .nets import Key
from .segments import clear
from .tree import Tree

At = tuple[float, float]


def turn_lights(bench: Bench) -> None:
    """Turn each light a little either way where that makes the tape cheaper."""
    for i, light in enumerate(bench.board.task.lights):
        if light.turn == "locked":
            continue
        steps = (45.0,) if light.turn == "45" else (24.0, 9.0, 3.0)
        for step in steps:
            for sign in (1.0, -1.0):
                while _turn(bench, i, sign * step) and not bench.out():
                    pass
        if bench.out():
            return


def _turn(bench: Bench, i: int, by: float) -> bool:
    board = bench.board
    keys: list[Key] = [("light", i, "positive"), ("light", i, "negative")]
    old = board.angles[i]
    trees = [bench.tree(board.net_of[k]) for k in keys]
    nodes = [t.pad_node[k] for t, k in zip(trees, keys, strict=True)]
    places = [t.at[n] for t, n in zip(trees, nodes, strict=True)]
    if any(n in t.fixed for t, n in zip(trees, nodes, strict=True)):
        return False
    before = sum(_star(bench, t, n) for t, n in zip(trees, nodes, strict=True))
    board.angles[i] = (old + by) % 360.0
    c, s = math.cos(math.radians(by)), math.sin(math.radians(by))
    x, y = board.task.lights[i].at
    for t, n, (px, py) in zip(trees, nodes, places, strict=True):
        dx, dy = px - x, py - y
        t.at[n] = (x + c * dx - s * dy, y + s * dx + c * dy)
    after = sum(_star(bench, t, n) for t, n in zip(trees, nodes, strict=True))
    if after < before - 0.02:
        board.changed()
        if _turn_legal(bench, keys, trees, nodes):
            return True
    board.angles[i] = old
    for t, n, p in zip(trees, nodes, places, strict=True):
        t.at[n] = p
    board.changed()
    return False


def _star(bench: Bench, tree: Tree, node: int) -> float:
    return bench.local(tree, [node, *tree.links[node]], node)


def _turn_legal(bench: Bench, keys: list[Key], trees: list[Tree], nodes: list[int]) -> bool:
    board = bench.board
    for key, tree, node in zip(keys, trees, nodes, strict=True):
        net = board.net_of[key]
        rows = np.array([(*tree.at[node], *tree.at[n]) for n in sorted(tree.links[node])])
        if len(rows) and not board.legal(net, rows):
            return False
        apart = board.room.half + board.pad_gap(key)
        sides = board.ring(key)
        for n, other in enumerate(board.trees):
            if n != net and other is not None:
                segments = other.segments()
                if not clear(sides, segments, np.full(len(segments), apart)):
                    return False
        if not bench.covered(net, [node, *tree.links[node]]):
            return False
    return True
