"""Bends and junctions taken out, put in, or made one."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from .bench import Bench
from .fermat import steiner_point
from .tree import Tree

At = tuple[float, float]


def contract(bench: Bench, net: int) -> None:
    """Take free nodes out: bends pulled straight, junctions moved onto a neighbour."""
    tree = bench.tree(net)
    for node in sorted(tree.at):
        if node not in tree.at or node in bench.pad_at[net] or node in tree.fixed:
            continue
        if len(tree.links[node]) < 2:
            tree.drop(node)
            bench.board.changed(net)
            continue
        if bench.tried("contract", net, node):
            continue
        for goal in sorted(tree.links[node]):
            if _merge(bench, net, node, goal):
                break


def mitre(bench: Bench, net: int) -> None:
    """Two bends close to each other become one where their outer runs would meet."""
    for u, v in sorted(bench.tree(net).edges()):
        tree = bench.tree(net)
        if v not in tree.links.get(u, ()) or {u, v} & (bench.pad_at[net].keys() | tree.fixed):
            continue
        if len(tree.links[u]) != 2 or len(tree.links[v]) != 2:
            continue
        (a,) = tree.links[u] - {v}
        (b,) = tree.links[v] - {u}
        at = _meeting(tree.at[a], tree.at[u], tree.at[v], tree.at[b])
        if at is None or a == b or bench.tried("mitre", net, u, v):
            continue
        rows = np.array([(*at, *tree.at[a]), (*at, *tree.at[b])])
        bench.attempt(net, _mitred(tree, (a, u, v, b), at), rows, [a, b])


def _merge(bench: Bench, net: int, node: int, goal: int) -> bool:
    """Hang all links of a node on its neighbour, where legal and cheaper."""
    tree = bench.tree(net)
    others = [n for n in sorted(tree.links[node]) if n != goal]
    rows = np.array([(*tree.at[goal], *tree.at[n]) for n in others])
    if len(others) > 1 and sum(math.dist(r[:2], r[2:]) for r in rows) > (
        sum(math.dist(tree.at[node], tree.at[n]) for n in tree.links[node]) + 3 * bench.prices.run
    ):
        return False

    def change() -> None:
        tree.drop(node)
        for n in others:
            tree.link(goal, n)

    return bench.attempt(net, change, rows, [goal, *others])


def branch(bench: Bench, net: int) -> None:
    """Put a junction where two links leave a node at a sharp angle."""
    tree = bench.tree(net)
    for node in sorted(tree.at):
        if node not in tree.at or len(tree.links[node]) < 2:
            continue
        if bench.tried("branch", net, node):
            continue
        best: tuple[float, int, int, At] | None = None
        near = [n for n in sorted(tree.links[node]) if not tree.is_pinned(node, n)]
        for i, a in enumerate(near):
            for b in near[i + 1 :]:
                p, q, r = tree.at[node], tree.at[a], tree.at[b]
                s = steiner_point(p, q, r)
                if s is None:
                    continue
                gain = math.dist(p, q) + math.dist(p, r)
                gain -= math.dist(s, p) + math.dist(s, q) + math.dist(s, r)
                if gain > 0.05 and (best is None or gain > best[0]):
                    best = (gain, a, b, s)
        if best is not None and not _split(bench, net, node, best[1:], tree.at[node]):
            _split_at_middle(bench, net, node, best[1], best[2])
        tree = bench.tree(net)


def _split_at_middle(bench: Bench, net: int, node: int, a: int, b: int) -> None:
    """Split a bend beside a pad's middle: what is left is an end, which has to reach the middle."""
    tree, key = bench.tree(net), bench.pad_at[net].get(node)
    if key is None or len(tree.links[node]) > 2 or node in tree.fixed:
        return
    middle = bench.board.centre(key)
    at = steiner_point(middle, tree.at[a], tree.at[b])
    if at is not None:
        _split(bench, net, node, (a, b, at), middle)


def _split(bench: Bench, net: int, node: int, split: tuple[int, int, At], place: At) -> bool:
    """Hang two of a node's links on a new junction, the node itself moved to a place."""
    a, b, at = split
    tree = bench.tree(net)
    rows = np.array([(*at, *place), *((*at, *tree.at[n]) for n in (a, b))])

    def change() -> None:
        tree = bench.tree(net)
        new = tree.add(at)
        tree.at[node] = place
        for n in (a, b):
            tree.unlink(node, n)
            tree.link(new, n)
        tree.link(new, node)

    return bench.attempt(net, change, rows, [node, a, b])


def _meeting(a: At, u: At, v: At, b: At) -> At | None:
    """Where the runs a-u and b-v meet beyond u and v, if they do within reach."""
    ux, uy, vx, vy = u[0] - a[0], u[1] - a[1], v[0] - b[0], v[1] - b[1]
    cross = ux * vy - uy * vx
    if abs(cross) < 1e-9:
        return None
    s = ((b[0] - a[0]) * vy - (b[1] - a[1]) * vx) / cross
    t = ((b[0] - a[0]) * uy - (b[1] - a[1]) * ux) / cross
    if s < 1.0 or t < 1.0:
        return None
    at = (a[0] + s * ux, a[1] + s * uy)
    return at if math.dist(at, u) + math.dist(at, v) < 40.0 else None


def _mitred(tree: Tree, chain: tuple[int, int, int, int], at: At) -> Callable[[], None]:
    def change() -> None:
        a, u, v, b = chain
        tree.drop(u)
        tree.drop(v)
        new = tree.add(at)
        tree.link(new, a)
        tree.link(new, b)

    return change
