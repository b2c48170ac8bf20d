"""Lay one net after another along visibility graphs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from ..records import record
from .board import Board
from .bound import steiner_points
from .free import ARC, capsules
from .landing import landing, reserved
from .nets import Key
from .pins import chains, join_chains, planned
from .steiner import Links, prune, steiner_tree
from .tour import Tour
from .tree import Tree
from .vgraph import Graph, charge, keep_links, visibility

#: Nodes nearer than this are one (mm).
CLOSE = 0.1

#: How far the first side keeps off the tour's line, tried in this order (mm); None: not at all.
WALLS = (2.4, 0.6, None)


def taken_by_others(board: Board, net: int, passing: bool = False) -> list[BaseGeometry]:
    """What lights' pads and trees of other nets take from a net (`passing` as in `landing`)."""
    room = board.room
    taken: list[BaseGeometry] = []
    for rows in board.others(net):
        taken += capsules(rows, 2.0 * room.half + room.gap).tolist()
    taken += taken_by_pads(board, net, passing)
    for n, tree in enumerate(board.trees):
        if n != net and tree is None and board.task.sketches:
            by = 2.0 * room.half + room.gap
            for pin in planned(board, n):
                line = np.array(pin.line.coords) if pin.line is not None else np.zeros((0, 2))
                taken += capsules(np.concatenate([line[:-1], line[1:]], axis=1), by).tolist()
    return taken


def taken_by_pads(board: Board, net: int, passing: bool = False) -> list[BaseGeometry]:
    """What lights' pads of other nets take, and what has to land on them."""
    taken = []
    for key, n in board.net_of.items():
        if n == net or key[0] != "light":
            continue
        sides = board.ring(key)
        taken += capsules(sides, board.room.half + board.pad_gap(key)).tolist()
        if board.trees[n] is None:
            taken.append(reserved(board, key, passing))
    return taken


@record
class Chains:
    """Pinned and planned strips as lists of a graph's nodes."""

    pinned: list[list[int]]
    planned: list[list[int]]


def lay(
    board: Board, net: int, price: float, wall: BaseGeometry | None = None, hubs: bool = False
) -> tuple[Tree, list[Key]]:
    """A tree over the pads of a net in the room that is left, and the pads it cannot reach.

    `hubs`: by way of the junctions that its shortest tree has were nothing in the way.
    """
    free = room_left(board, net, wall)
    keys = board.nets[net].pads
    landed = [landing(board, free, key) for key in keys]
    more = _hubs(board, free, landed) if hubs else np.zeros((0, 2))
    graph, linked = with_pins(board, net, free, landed, price, more)
    stops, pads = list(range(len(keys) + len(more))), set(range(len(keys)))
    links, cut = steiner_tree(graph, stops, 0)
    prune(links, pads)
    tree = as_tree(graph, links, keys, linked)[0]
    merge_close(tree)
    return tree, [keys[k] for k in cut if k in pads]


def _hubs(board: Board, free: BaseGeometry, landed: list[tuple[float, float]]) -> np.ndarray:
    """(n, 2) junctions of a short Steiner tree over landing places that lie in the free room.

    None where strips of the maker's are to be joined: they have a way of their own.
    """
    if board.task.pinned or board.task.sketches:
        return np.zeros((0, 2))
    found = np.array(steiner_points(landed)[0][len(landed) :]).reshape(-1, 2)
    inside: np.ndarray = found[shapely.intersects_xy(free, found)]
    return inside


def room_left(
    board: Board, net: int, wall: BaseGeometry | None, passing: bool = False
) -> BaseGeometry:
    """Where middles of a net's strips may lie beside the other net's tape and a wall."""
    taken = taken_by_others(board, net, passing)
    if wall is not None:
        taken.append(wall)
    free = board.free[net]
    return free.difference(shapely.union_all(taken)) if taken else free


def with_pins(
    board: Board,
    net: int,
    free: BaseGeometry,
    landed: list[tuple[float, float]],
    price: float,
    more: np.ndarray | None = None,
) -> tuple[Graph, Chains]:
    """The graph over landing places, pinned and planned strips of a net, and these as chains."""
    if not board.task.pinned and not board.task.sketches:
        points = np.array(landed) if more is None else np.concatenate([np.array(landed), more])
        return seen(board, free, points, price), Chains([], [])
    extra, linked, sketched, moved = chains(board, net, free, landed)
    places = [moved.get(k, p) for k, p in enumerate(landed)]
    parts = [np.array(places), extra] if more is None else [np.array(places), extra, more]
    graph = seen(board, free, np.concatenate(parts), price)
    join_chains(graph, [*linked, *sketched])
    return graph, Chains(linked, sketched)


def seen(board: Board, free: BaseGeometry, points: np.ndarray, price: float) -> Graph:
    """The visibility graph of a free area, tape in openings being dearer."""
    windows = board.windows
    if board.folds.lines:
        gates = board.folds.gates()
        points = np.concatenate([points, gates[shapely.contains_xy(free, gates)]])
    graph = visibility(free, points, price, windows.around(board.room.half))
    if board.folds.lines:
        keep_links(graph, board.folds.allowed)
    if len(windows.areas):
        charge(graph, windows.price)
    return graph


def as_tree(
    graph: Graph, links: Links, keys: Sequence[Key], linked: Chains
) -> tuple[Tree, dict[int, int]]:
    """Centre lines of a tree in a graph whose first nodes are the pads, and its nodes' numbers."""
    tree = Tree()
    number = {}
    for node in sorted(links):
        x, y = graph.at[node].tolist()
        number[node] = tree.add((x, y))
    for a, others in links.items():
        for b in others:
            tree.link(number[a], number[b])
    for k, key in enumerate(keys):
        if k in number:
            tree.pad_node[key] = number[k]
    for chain in [*linked.pinned, *linked.planned]:
        tree.fixed |= {number[n] for n in chain if n in number}
        for a, b in pairwise(chain):
            if b in links.get(a, ()):
                tree.pinned.add((min(number[a], number[b]), max(number[a], number[b])))
                if chain in linked.planned:
                    tree.planned.add((min(number[a], number[b]), max(number[a], number[b])))
    return tree, number


def merge_close(tree: Tree) -> None:
    """Free nodes on top of a neighbour are one with it."""
    pads = set(tree.pad_node.values()) | tree.fixed
    for node in sorted(tree.at):
        if node in pads:
            continue
        for other in sorted(tree.links[node]):
            if math.dist(tree.at[node], tree.at[other]) < CLOSE:
                others = tree.links[node] - {other}
                tree.drop(node)
                for n in sorted(others):
                    tree.link(other, n)
                break


def wall_of(board: Board, tour: Tour, half: float | None) -> BaseGeometry | None:
    """The tour's line as a bank that the first side does not cross."""
    if half is None or len(tour.way) < 2:
        return None
    return LineString(tour.way).buffer(half, quad_segs=ARC, cap_style="flat", join_style="mitre")


def turned(board: Board, angles: tuple[float, ...]) -> Board:
    """A fresh start with the lights turned."""
    new = board.clone()
    new.angles = list(angles)
    new.trees = [None] * len(board.nets)
    return new


def weave(board: Board, tour: Tour, first: int, price: float) -> tuple[Board, list[Key]]:
    """Both sides laid along a tour, `first` (a net's number) first; the pads left over."""
    fewest: tuple[Board, list[Key]] | None = None
    order = [first, *[n for n in range(len(board.nets)) if n != first]]
    for half in WALLS:
        new = turned(board, tour.angles)
        missed: list[Key] = []
        for step, net in enumerate(order):
            wall = wall_of(board, tour, half) if step == 0 else None
            tree, cut = lay(new, net, price, wall)
            new.trees[net] = tree
            new.changed()
            missed += cut
            if cut and step == 0:
                break
        if not missed:
            return new, []
        if fewest is None or len(missed) < len(fewest[1]):
            fewest = (new, missed)
    assert fewest is not None
    return fewest


def relay(board: Board, net: int, price: float, hubs: bool = False) -> Board | None:
    """One net laid anew against all others (`hubs` as for `lay`); None where it cuts a pad off."""
    new = board.clone()
    new.trees[net] = None
    new.changed()
    tree, cut = lay(new, net, price, hubs=hubs)
    if cut:
        return None
    new.trees[net] = tree
    new.changed()
    return new
