"""Links taken out, the halves joined where they are nearer."""

from __future__ import annotations

import math

import numpy as np

from .bench import Bench
from .sliding import foot
from .tree import Tree

At = tuple[float, float]


def swing(bench: Bench, net: int) -> None:
    """Take a link out and join the halves where they are nearer, straight."""
    for a, b in sorted(bench.tree(net).edges()):
        tree = bench.tree(net)
        if b not in tree.links.get(a, ()) or tree.is_pinned(a, b):
            continue
        if bench.tried("swing", net, a, b):
            continue
        if bench.out():
            return
        done = _swing(bench, net, a, b) or _swing(bench, net, b, a)
        del done


def _swing(bench: Bench, net: int, a: int, b: int) -> bool:
    """Join the half with `a` to the other half by one straight link from `a`."""
    tree = bench.tree(net)
    far = math.dist(tree.at[a], tree.at[b])
    budget = far + bench.prices.joint + bench.prices.piece + 2 * bench.prices.run
    tree.unlink(a, b)
    half = _part(tree, b)
    tree.link(a, b)
    edges = [e for e in tree.edges() if e[0] in half and e[1] in half and e not in tree.pinned]
    places: list[tuple[float, tuple[int, ...], At]] = [
        (math.dist(tree.at[a], tree.at[n]), (n,), tree.at[n]) for n in sorted(half) if n != b
    ]
    for e in edges:
        at = foot(tree.at[a], tree.at[e[0]], tree.at[e[1]])
        if min(math.dist(at, tree.at[n]) for n in e) > 0.5:
            places.append((math.dist(tree.at[a], at), e, at))
    places.sort(key=lambda p: (p[0], p[1]))
    for length, where, at in places[:4]:
        if length > budget:
            return False
        if _may_pay(bench, net, a, b, where, length) and _rejoin(bench, net, a, b, where, at):
            return True
    return False


def _may_pay(bench: Bench, net: int, a: int, b: int, where: tuple[int, ...], length: float) -> bool:
    """Whether a swing can pay at all: its length and pieces, two runs and a joint saved."""
    if len(bench.board.windows.areas):
        return True
    tree, end, before = bench.tree(net), b, a
    more = length - math.dist(tree.at[a], tree.at[b])
    while len(tree.links[end]) == 2 and end not in bench.pad_at[net] and end not in where:
        (ahead,) = tree.links[end] - {before}
        more -= math.dist(tree.at[end], tree.at[ahead])
        before, end = end, ahead
    goal = len(tree.links[where[0]]) if len(where) == 1 else 2
    # two ways at a node make one piece: pieces are half the nodes with an odd number of ways
    odd = 0 if where == (end,) else (1 - 2 * (goal % 2)) + (1 - 2 * (len(tree.links[end]) % 2))
    prices = bench.prices
    return more + prices.piece * odd / 2.0 < 2.0 * prices.run + prices.joint


def _rejoin(bench: Bench, net: int, a: int, b: int, where: tuple[int, ...], at: At) -> bool:
    tree = bench.tree(net)
    rows = np.array([(*tree.at[a], *at)])

    def change() -> None:
        tree = bench.tree(net)
        tree.unlink(a, b)
        if len(where) == 2:
            goal = tree.add(at)
            tree.unlink(*where)
            for n in where:
                tree.link(goal, n)
        else:
            goal = where[0]
        tree.link(a, goal)
        node = b
        while len(tree.links[node]) == 1 and node not in bench.pad_at[net] and node != a:
            (up,) = tree.links[node]
            tree.drop(node)
            node = up
        ends.append(node)

    ends: list[int] = []
    return bench.attempt(net, change, rows, [a, *where], ends)


def _part(tree: Tree, start: int) -> set[int]:
    seen, todo = {start}, [start]
    while todo:
        for other in tree.links[todo.pop()]:
            if other not in seen:
                seen.add(other)
                todo.append(other)
    return seen
