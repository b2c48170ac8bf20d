"""What a layout costs: joints in series, pieces, runs and length, weighed by one slider."""

from __future__ import annotations

from ..records import record
from .board import Board
from .strips import Cut, cut
from .task import Choices


@record
class Prices:
    """mm of tape that one run, one piece and one joint in series are worth."""

    run: float
    piece: float
    joint: float


def prices_of(choices: Choices) -> Prices:
    """Prices at a place of the slider (0 shortest, 1 fewest)."""
    f = choices.fewer_strips
    if not choices.conducts or choices.style == "rails":
        return Prices(1.0 + 6.0 * f, 200.0, 400.0)
    return Prices(1.0 + 8.0 * f, 1.0 + 30.0 * f, 60.0 * f)


def cost_of(board: Board, prices: Prices, net: int | None = None) -> float:
    """The cost of all nets or of one."""
    nets = range(len(board.nets)) if net is None else [net]
    return sum(net_cost(board, n, prices) for n in nets)


def net_cost(board: Board, net: int, prices: Prices) -> float:
    tree = board.trees[net]
    assert tree is not None
    done = cut_net(board, net)
    worst = max((done.joints[node] for node in tree.pad_node.values()), default=0)
    return (
        tree.length()
        + board.windows.together((*tree.at[a], *tree.at[b]) for a, b in tree.edges())
        + prices.run * done.runs
        + prices.piece * len(done.strips)
        + prices.joint * worst
    )


def cut_net(board: Board, net: int) -> Cut:
    """Strips of a net, from its first pad (the cell's)."""
    tree = board.trees[net]
    assert tree is not None
    root = tree.pad_node[board.nets[net].pads[0]]
    return cut(tree, root, board.task.choices.corners == "overlap")
