"""Nodes moved to where their links are shorter or straighter."""

from __future__ import annotations

import math

import numpy as np

from .allowance import SLIDE
from .bench import LEAST, SHORT, Bench, pad_share
from .fermat import middle

At = tuple[float, float]

#: Parts of a wished-for step that are tried.
STEPS = (1.0, 0.5, 0.2)


def slide(bench: Bench, net: int) -> None:
    """Move nodes to where their links are shorter or straighter."""
    tree = bench.tree(net)
    for node in sorted(tree.at):
        if node in tree.fixed:
            continue
        if node in tree.at and not bench.tried("slide", net, node):
            for wish in _wishes(bench, net, node):
                here = tree.at[node]
                for step in STEPS:
                    at = (
                        here[0] + step * (wish[0] - here[0]),
                        here[1] + step * (wish[1] - here[1]),
                    )
                    if _move(bench, net, node, at):
                        break


def _wishes(bench: Bench, net: int, node: int) -> list[At]:
    tree = bench.tree(net)
    around = [tree.at[n] for n in sorted(tree.links[node])]
    if not around:
        return []
    wishes = [middle(around, tree.at[node])]
    for i, a in enumerate(around):
        wishes += [foot(tree.at[node], a, b) for b in around[i + 1 :]]
    key = bench.pad_at[net].get(node)
    if key is not None:
        centre = bench.board.centre(key)
        wishes = [_within(w, centre, 3.2) for w in wishes] + [centre]
    return wishes


def _move(bench: Bench, net: int, node: int, at: At) -> bool:
    tree = bench.tree(net)
    old = tree.at[node]
    if math.dist(old, at) < 1e-4:
        return False
    near = sorted(tree.links[node])
    if any(math.dist(at, tree.at[n]) < SHORT for n in near):
        return False
    bench.out.spend(SLIDE)
    before = bench.local(tree, [node, *near], node)
    tree.at[node] = at
    if bench.local(tree, [node, *near], node) < before - LEAST:
        rows = np.array([(*at, *tree.at[n]) for n in near])
        if bench.covered(net, [node, *near]) and bench.board.legal(net, rows):
            bench.board.changed(net)
            return True
    tree.at[node] = old
    return False


def reach_pads(bench: Bench, net: int) -> None:
    """Move ends that barely reach their pad further onto it."""
    tree, needed = bench.tree(net), bench.board.room.least_cover
    for key, node in tree.pad_node.items():
        if node in tree.fixed:
            continue
        least = min(needed, bench.board.room.square / bench.board.pad_area(key))
        if pad_share(bench.board, key, tree, tree.at[node]) >= least - 1e-4:
            continue
        near = sorted(tree.links[node])
        for at in _around(bench.board.centre(key), [tree.at[n] for n in near]):
            rows = np.array([(*at, *tree.at[n]) for n in near])
            if pad_share(bench.board, key, tree, at) >= least and bench.board.legal(net, rows):
                tree.at[node] = at
                bench.board.changed(net)
                break


def foot(p: At, a: At, b: At) -> At:
    """The place on the link a-b nearest to p."""
    wx, wy = b[0] - a[0], b[1] - a[1]
    size = wx * wx + wy * wy
    if size < 1e-12:
        return a
    t = min(max(((p[0] - a[0]) * wx + (p[1] - a[1]) * wy) / size, 0.0), 1.0)
    return (a[0] + t * wx, a[1] + t * wy)


def _around(centre: At, links: list[At]) -> list[At]:
    """Places round a pad's middle, those that lengthen its links first in line."""
    places = [centre]
    for far in (0.3, 0.7, 1.2):
        for x, y in links:
            size = math.dist((x, y), centre) or 1.0
            places.append(
                (centre[0] - far * (x - centre[0]) / size, centre[1] - far * (y - centre[1]) / size)
            )
        places += [
            (
                centre[0] + far * math.cos(k * math.pi / 4),
                centre[1] + far * math.sin(k * math.pi / 4),
            )
            for k in range(8)
        ]
    return places


def _within(p: At, centre: At, radius: float) -> At:
    far = math.dist(p, centre)
    if far <= radius:
        return p
    return (
        centre[0] + (p[0] - centre[0]) * radius / far,
        centre[1] + (p[1] - centre[1]) * radius / far,
    )
