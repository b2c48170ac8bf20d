"""Trees round all that is in the way, each side alone: what opening boards are compared with."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
import shapely

from underlit.routing import Task
from underlit.routing.board import Board
from underlit.routing.bound import steiner_points
from underlit.routing.fermat import steiner_point
from underlit.routing.levels import rooms
from underlit.routing.steiner import steiner_tree
from underlit.routing.vgraph import visibility

At = tuple[float, float]


def two_trees(task: Task, angles: Mapping[str, float]) -> float:
    """Length (mm) of a tree for plus and one for minus over the feet of lights turned so.

    Each is made as if the other were not there: the cheapest way after way in a visibility graph
    round all else that is in the way, with the junctions of trees that have nothing in their way.
    """
    board = Board(task, rooms(task)[0])
    board.angles = [angles[light.id] for light in task.lights]
    return sum(_tree(board, net) for net in range(len(board.nets)))


def _tree(board: Board, net: int) -> float:
    ends = [board.centre(key) for key in board.nets[net].pads]
    junctions = steiner_points(ends)[0][len(ends) :] + _junctions(ends)
    free = board.free[net].union(shapely.union_all([shapely.Point(p).buffer(6.0) for p in ends]))
    inside = [p for p in junctions if shapely.intersects_xy(free, *p)]
    graph = visibility(free, np.array(ends + inside), 0.0)
    links, cut = steiner_tree(graph, list(range(len(ends))), 0)
    assert not cut
    at = graph.at
    return sum(float(np.hypot(*(at[a] - at[b]))) for a in links for b in links[a]) / 2.0


def _junctions(ends: list[At]) -> list[At]:
    """Where three ends near to each other would best be joined."""
    near = [sorted(ends, key=lambda q, p=p: math.dist(p, q))[:6] for p in ends]
    threes = {
        tuple(sorted((few[0], few[i], few[j])))
        for few in near
        for i in range(1, len(few))
        for j in range(i + 1, len(few))
    }
    found = [steiner_point(*three) for three in sorted(threes)]
    return [p for p in found if p is not None]
