"""Lay both sides where one has to cross the other over paper: as few crossings as can be found."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from .board import Board
from .crossing import Gate, cross, gates_of
from .landing import landing
from .nets import Key
from .steiner import steiner_tree
from .tour import Tour
from .vgraph import Graph
from .weave import WALLS, as_tree, merge_close, room_left, turned, wall_of, with_pins

#: What a crossing costs more than the way itself (mm): any way round is better.
TOLL = 5000.0

#: What a mm2 of paper in the window over a light costs (mm).
SHOWN = 20.0


def bridged(board: Board, tour: Tour, price: float) -> Iterator[Board]:
    """Boards along a tour with crossings over paper where there is no other way."""
    last = len(board.nets) - 1
    for half in (WALLS[0], None):
        for first in (last - 1, last):
            new = turned(board, tour.angles)
            order = [first, *[n for n in range(last + 1) if n != first]]
            if all(
                lay_over(new, net, price, wall_of(board, tour, half) if k == 0 else None) == []
                for k, net in enumerate(order)
            ):
                yield new


def lay_over(
    board: Board, net: int, price: float, wall: shapely.Geometry | None
) -> list[Key] | None:
    """Lay a net, gates through other tape being dear; the pads cut off, None where gates clash."""
    free = room_left(board, net, wall)
    keys = board.nets[net].pads
    landed = [landing(board, free, key) for key in keys]
    gates = [g for g in gates_of(board, net) if _opens(free, g)]
    ends = np.array([end for g in gates for end in (g.p, g.q)]).reshape(-1, 2)
    graph, linked = with_pins(board, net, free, landed, price, ends)
    nodes = _add_gates(board, graph, gates)
    links, cut = steiner_tree(graph, list(range(len(keys))), 0)
    tree, number = as_tree(graph, links, keys, linked)
    if cut:
        return [keys[k] for k in cut]
    used = [
        (gate, number[a], number[b])
        for gate, (a, b) in zip(gates, nodes, strict=True)
        if b in links.get(a, ())
    ]
    if not cross(board, net, tree, used):
        return None
    merge_close(tree)
    board.trees[net] = tree
    board.changed()
    return []


def _opens(free: shapely.Geometry, gate: Gate) -> bool:
    return bool(shapely.intersects_xy(free, *gate.p) and shapely.intersects_xy(free, *gate.q))


def _add_gates(board: Board, graph: Graph, gates: list[Gate]) -> list[tuple[int, int]]:
    """Link both ends of each gate at its price; the numbers of these nodes."""
    place = {tuple(at): i for i, at in enumerate(graph.at.tolist())}
    openings = board.windows.areas
    found = []
    for gate in gates:
        a, b = place[gate.p], place[gate.q]
        shown = (
            sum(shapely.area(shapely.intersection(openings, gate.patch))) if len(openings) else 0
        )
        cost = 2.0 * gate.far + TOLL + SHOWN * float(shown)
        for i, j in ((a, b), (b, a)):
            graph.links[i] = [(n, w) for n, w in graph.links[i] if n != j] + [(j, cost)]
        found.append((a, b))
    return found
