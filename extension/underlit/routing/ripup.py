"""Where one side shuts the other in: lay it through the other at a price, then that one anew.

Each round one net is laid with the tape of the others in its way only dear, not forbidden; the
net it cut through is then laid anew around it. What is cut again and again gets dearer.
"""

from __future__ import annotations

import numpy as np
import shapely

from .board import Board, Key, Tree
from .segments import distances
from .steiner import steiner_tree
from .vgraph import Graph, reflex_corners, visibility
from .weave import as_tree, landing, lay, taken_by_others

#: What cutting through a link costs at first, and what is added in every round (mm).
TOLL = 40.0


def rip_up(board: Board, price: float, rounds: int, first: int) -> Board | None:
    """A board with all nets laid, from any start; None where the rounds do not suffice."""
    board = board.clone()
    count = len(board.nets)
    net = first
    for number in range(rounds):
        tree, cut = _lay_through(board, net, price, TOLL * (1 + number))
        if cut:
            return None
        board.trees[net] = tree
        board.changed()
        done = True
        for step in range(1, count):
            other = (net + step) % count
            board.trees[other], kept = None, board.trees[other]
            board.changed()
            new, missed = lay(board, other, price)
            if missed:
                board.trees[other] = kept
                board.changed()
                done = False
                net = other
                break
            board.trees[other] = new
            board.changed()
        if done:
            return board
    return None


def _lay_through(board: Board, net: int, price: float, toll: float) -> tuple[Tree, list[Key]]:
    """A tree of a net, other tape being dear to cross, pads of others forbidden."""
    trees = board.trees
    board.trees = [None] * len(trees)
    board.changed()
    taken = taken_by_others(board, net)
    board.trees = trees
    board.changed()
    soft = board.free[net].difference(shapely.union_all(taken)) if taken else board.free[net]
    hard_taken = taken_by_others(board, net)
    hard = board.free[net].difference(shapely.union_all(hard_taken))
    keys = board.nets[net].pads
    points = np.array([landing(board, soft, key) for key in keys])
    corners = reflex_corners(hard)[0]
    inside = shapely.contains_xy(soft, corners) if len(corners) else np.zeros(0, dtype=bool)
    graph = visibility(soft, np.concatenate([points, corners[inside]]), price)
    _charge(board, net, graph, toll)
    links, cut = steiner_tree(graph, list(range(len(keys))), 0)
    return as_tree(graph, links, keys), [keys[k] for k in cut]


def _charge(board: Board, net: int, graph: Graph, toll: float) -> None:
    """Add the toll to links that come too near to other tape, once for each of its links."""
    rows = [t.segments() for n, t in enumerate(board.trees) if n != net and t is not None]
    if not rows:
        return
    others = np.concatenate(rows)
    apart = 2.0 * board.room.half + board.room.gap - 0.01
    pairs = [(i, j) for i, links in enumerate(graph.links) for j, _ in links if i < j]
    if not pairs:
        return
    index = np.array(pairs)
    segments = np.concatenate([graph.at[index[:, 0]], graph.at[index[:, 1]]], axis=1)
    extra: dict[tuple[int, int], float] = {}
    for start in range(0, len(segments), 2000):
        part = segments[start : start + 2000]
        hits = (distances(part, others) < apart).sum(axis=1)
        for k in np.flatnonzero(hits).tolist():
            i, j = pairs[start + k]
            extra[i, j] = extra[j, i] = toll * float(np.sqrt(hits[k]))
    for i, links in enumerate(graph.links):
        graph.links[i] = [(j, w + extra.get((i, j), 0.0)) for j, w in links]
