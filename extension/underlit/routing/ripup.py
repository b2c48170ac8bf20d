"""Where one side shuts the other in: negotiate.

Each net in turn is laid with the tape of the others in its way only dear, not forbidden. Places
where two nets cut each other are remembered and get dearer for both from round to round, so
that one of them gives way there for good (negotiated congestion, McMurchie and Ebeling 1995).
"""

from __future__ import annotations

from random import Random

import numpy as np
import shapely

from .board import Board
from .landing import landing
from .nets import Key
from .segments import distances
from .steiner import steiner_tree
from .tree import Tree
from .vgraph import Graph, charge, reflex_corners
from .weave import as_tree, lay, merge_close, room_left, with_pins

#: What cutting through a link costs at first, and what is added in every round (mm).
TOLL = 40.0

#: What a place of conflict costs every link that passes it, for each time (mm).
REMEMBERED = 12.0


def rip_up(board: Board, price: float, rounds: int, first: int, random: Random) -> Board | None:
    """A board with all nets laid, from any start; None where the rounds do not suffice."""
    board = board.clone()
    count = len(board.nets)
    memory: list[tuple[float, float]] = []
    for number in range(rounds * count):
        net = (first + number) % count
        toll = TOLL * (0.4 + 0.3 * (number // count))
        tree, cut = _lay_through(board, net, price, toll, memory, random)
        if cut:
            return None
        board.trees[net] = tree
        board.changed()
        if any(t is None for t in board.trees):
            continue
        places = conflicts(board, net)
        memory += places
        if not places and all(_legal(board, n) for n in range(count)):
            return board
        if len(places) <= FEW:
            done = _settled(board, net, price)
            if done is not None:
                return done
    return None


def _legal(board: Board, net: int) -> bool:
    tree = board.trees[net]
    return tree is not None and board.legal(net, tree.segments(stays=False))


#: With no more places than these in conflict, the other nets are laid anew around one.
FEW = 2


def _settled(board: Board, net: int, price: float) -> Board | None:
    """All other nets laid anew around one; None where that cuts a pad off."""
    new = board.clone()
    for other in range(len(new.nets)):
        if other != net:
            new.trees[other] = None
            new.changed()
            tree, missed = lay(new, other, price)
            if missed:
                return None
            new.trees[other] = tree
            new.changed()
    return new


def conflicts(board: Board, net: int) -> list[tuple[float, float]]:
    """Places where a net's tape is too near to another's."""
    own = board.trees[net]
    assert own is not None
    mine = own.segments(stays=False)
    apart = 2.0 * board.room.half + board.room.gap
    places: list[tuple[float, float]] = []
    for theirs in board.others(net):
        for i, j in np.argwhere(distances(mine, theirs) < apart).tolist():
            line = shapely.shortest_line(
                shapely.linestrings(mine[i].reshape(2, 2)),
                shapely.linestrings(theirs[j].reshape(2, 2)),
            )
            middle = shapely.get_coordinates(line).mean(axis=0)
            place = (float(middle[0]), float(middle[1]))
            if all((place[0] - x) ** 2 + (place[1] - y) ** 2 > 9.0 for x, y in places):
                places.append(place)
    return places


def _lay_through(
    board: Board,
    net: int,
    price: float,
    toll: float,
    memory: list[tuple[float, float]],
    random: Random,
) -> tuple[Tree, list[Key]]:
    """A tree of a net, other tape being dear to cross, pads of others forbidden."""
    trees = board.trees
    board.trees = [None] * len(trees)
    board.changed()
    soft = room_left(board, net, None, passing=True)
    board.trees = trees
    board.changed()
    hard = room_left(board, net, None)
    keys = board.nets[net].pads
    points = [landing(board, soft, key) for key in keys]
    corners = reflex_corners(hard)[0]
    inside = shapely.contains_xy(soft, corners) if len(corners) else np.zeros(0, dtype=bool)
    graph, linked = with_pins(board, net, soft, points, price, corners[inside])
    _charge(board, net, graph, toll, memory, random)
    links, cut = steiner_tree(graph, list(range(len(keys))), 0)
    tree = as_tree(graph, links, keys, linked)[0]
    merge_close(tree)
    return tree, [keys[k] for k in cut]


def _charge(
    board: Board,
    net: int,
    graph: Graph,
    toll: float,
    memory: list[tuple[float, float]],
    random: Random,
) -> None:
    """Add the toll for links too near to other tape, and what places remember."""
    rows = board.others(net)
    apart = 2.0 * board.room.half + board.room.gap
    places = np.array([(*p, *p) for p in memory])

    def price(segments: np.ndarray) -> np.ndarray:
        extra = np.array([0.03 * random.random() for _ in segments])
        extra *= np.hypot(segments[:, 0] - segments[:, 2], segments[:, 1] - segments[:, 3])
        if rows:
            extra += toll * np.sqrt(_hits(segments, np.concatenate(rows), apart))
        if len(places):
            extra += REMEMBERED * _hits(segments, places, board.room.half + 1.0)
        return extra

    charge(graph, price)


def _hits(segments: np.ndarray, others: np.ndarray, apart: float) -> np.ndarray:
    """How many of the others each segment comes too near to."""
    found = [
        (distances(segments[k : k + 1000], others) < apart).sum(axis=1)
        for k in range(0, len(segments), 1000)
    ]
    result: np.ndarray = np.concatenate(found).astype(float)
    return result
