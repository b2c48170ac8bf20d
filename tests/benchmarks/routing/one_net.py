"""One net alone on an open board: `python tests/benchmarks/routing/one_net.py`.

Prints its length over the published Euclidean Steiner optimum for each instance of
`tests/routing/steiner_optima.py`; exit 1 where one is over the limit.
"""

from __future__ import annotations

import sys
from pathlib import Path

from shapely.geometry import box

ROOT = Path(__file__).resolve().parents[3]
sys.path[:0] = [str(ROOT / "extension"), str(ROOT / "tests")]

from routing.boards import BARE  # noqa: E402
from routing.steiner_optima import OPTIMA  # noqa: E402
from underlit.routing import Cell, Choices, Light, Task  # noqa: E402
from underlit.routing.allowance import Allowance  # noqa: E402
from underlit.routing.board import Board  # noqa: E402
from underlit.routing.levels import rooms  # noqa: E402
from underlit.routing.polish import Polisher  # noqa: E402
from underlit.routing.price import prices_of  # noqa: E402
from underlit.routing.weave import relay  # noqa: E402

At = tuple[float, float]

#: A unit of the published instances is so many mm, so that feet and tape are small beside it.
UNIT = 1000.0

#: One of the net's feet, and one of the other side far off.
FOOT, AWAY = box(-1.5, -1.5, 1.5, 1.5), box(-1.5, 2998.5, 1.5, 3001.5)

#: Length over the optimum is at most this.
LIMIT = 1.015


def lone_net(points: list[At]) -> float:
    """Length (mm) of one net over the places, the first of them the cell's, laid in both ways."""
    (x, y), *rest = points
    foot = box(x - 1.5, y - 1.5, x + 1.5, y + 1.5)
    away = box(x - 1.5, 9000.0, x + 1.5, 9003.0)
    cell = Cell("B1", foot, away, box(x, y + 8000.0, x + 1.0, y + 8001.0))
    lights = tuple(Light(f"L{i}", p, FOOT, AWAY, FOOT) for i, p in enumerate(rest))
    sheet = box(-200.0, -200.0, 1200.0, 9200.0)
    task = Task(sheet, lights, (cell,), limits=BARE, choices=Choices(fewer_strips=0.0))
    board = Board(task, rooms(task)[0])
    board.nets, board.trees, board.free = board.nets[:1], [None], board.free[:1]
    board.net_of = dict.fromkeys(board.nets[0].pads, 0)
    prices = prices_of(task.choices)
    lengths = []
    for hubs in (False, True):
        new = relay(board, 0, prices.run, hubs)
        assert new is not None
        Polisher(new, prices, Allowance()).settle(8, turning=False)
        lengths.append(new.trees[0].length())
    return min(lengths)


def main() -> int:
    ratios = []
    for name, points, optimum in OPTIMA:
        unit = UNIT / max(1.0, *(max(p) for p in points))
        ratios.append(lone_net([(unit * x, unit * y) for x, y in points]) / (unit * optimum))
        print(f"{name}: {ratios[-1]:.4f}")
    holds = max(ratios) <= LIMIT
    print(f"worst {max(ratios):.4f}, limit {LIMIT}: {'holds' if holds else 'DOES NOT HOLD'}")
    return 0 if holds else 1


if __name__ == "__main__":
    sys.exit(main())
