"""Two rails along a tour: each side one folded strip past every light, no joints."""

from __future__ import annotations

import cmath
import itertools
import math

import numpy as np
import shapely

from .board import Board
from .landing import landing
from .task import Task
from .tour import Tour
from .tree import Tree
from .vgraph import shortest
from .weave import WALLS, room_left, seen, turned, wall_of

#: Angles this near to their mean become one (degrees).
ALIKE = 65.0


def along(board: Board, tour: Tour, price: float) -> Board | None:
    """A board whose nets run from pad to pad in the tour's order; None where one is cut off."""
    last = len(board.nets) - 1
    for half in WALLS[:2]:
        for first in (last - 1, last):
            new = turned(board, tour.angles)
            order = [first, *[n for n in range(last + 1) if n != first]]
            done = True
            for step, net in enumerate(order):
                wall = wall_of(board, tour, half) if step == 0 else None
                tree = _rail(new, net, tour, price, wall)
                if tree is None:
                    done = False
                    break
                new.trees[net] = tree
                new.changed()
            if done:
                return new
    return None


def one_turn(task: Task, tour: Tour) -> Tour | None:
    """The tour with all lights that may turn freely at one angle, where theirs are much alike."""
    if any(light.turn != "free" for light in task.lights):
        return None
    way = sum(cmath.rect(1.0, math.radians(a)) for a in tour.angles)
    mean = math.degrees(cmath.phase(way)) % 360.0
    if any(abs((a - mean + 180.0) % 360.0 - 180.0) > ALIKE for a in tour.angles):
        return None
    return Tour(tour.order, tour.way, tuple(round(mean, 2) for _ in tour.angles), tour.length)


def _rail(
    board: Board, net: int, tour: Tour, price: float, wall: shapely.Geometry | None
) -> Tree | None:
    free = room_left(board, net, wall)
    pads = board.nets[net].pads
    rank = {light: k for k, light in enumerate(tour.order)}
    keys = sorted(
        pads, key=lambda k: (k[0] == "light", rank.get(k[1], 0) if k[0] == "light" else 0)
    )
    graph = seen(board, free, np.array([landing(board, free, key) for key in keys]), price)
    tree = Tree()
    nodes = [tree.add(tuple(graph.at[k].tolist())) for k in range(len(keys))]
    for k, key in enumerate(keys):
        tree.pad_node[key] = nodes[k]
    number = dict(enumerate(nodes))
    for k in range(1, len(keys)):
        way = shortest(graph, [k - 1], {k})
        if way is None:
            return None
        for a, b in itertools.pairwise(way):
            if b >= len(keys) and b in number:
                return None
            for n in (a, b):
                if n not in number:
                    number[n] = tree.add(tuple(graph.at[n].tolist()))
            if len(tree.links[number[a]]) >= 2:
                return None
            tree.link(number[a], number[b])
    return tree if _is_tree(tree) else None


def _is_tree(tree: Tree) -> bool:
    return sum(len(o) for o in tree.links.values()) // 2 == len(tree.at) - 1
