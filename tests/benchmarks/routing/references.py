"""Routing against what is known: `python tests/benchmarks/routing/references.py [PART ...]`.

Parts: `nets`, one net alone on an open board against published Euclidean Steiner optima;
`openings`, boards with openings against two trees round everything in the way, each made without
the other; `best`, boards of three and four lights against the best that `exhaustive.py` found.
Prints what was measured; exit 1 where a limit does not hold.
"""

from __future__ import annotations

import argparse
import json
import math
import statistics
import sys
from pathlib import Path

import numpy as np
import shapely
from shapely.geometry import box

ROOT = Path(__file__).resolve().parents[3]
sys.path[:0] = [str(ROOT / "extension"), str(ROOT / "tests")]

from benchmarks.routing.cards import cards_of, task_of  # noqa: E402
from routing.boards import BARE  # noqa: E402
from routing.steiner_optima import OPTIMA  # noqa: E402
from underlit.routing import Cell, Choices, Layout, Light, Task, route  # noqa: E402
from underlit.routing.board import Board  # noqa: E402
from underlit.routing.bound import steiner_points  # noqa: E402
from underlit.routing.fermat import steiner_point  # noqa: E402
from underlit.routing.levels import rooms  # noqa: E402
from underlit.routing.polish import Polisher  # noqa: E402
from underlit.routing.price import prices_of  # noqa: E402
from underlit.routing.steiner import steiner_tree  # noqa: E402
from underlit.routing.vgraph import visibility  # noqa: E402
from underlit.routing.weave import relay  # noqa: E402

BEST = Path(__file__).parent / "exhaustive.json"

At = tuple[float, float]

#: A unit of the published instances is so many mm, so that feet and tape are small beside it.
UNIT = 1000.0

#: One of the net's feet, and one of the other side far off.
FOOT, AWAY = box(-1.5, -1.5, 1.5, 1.5), box(-1.5, 2998.5, 1.5, 3001.5)

#: Limits: of one net over its optimum, of openings over two trees, of few lights over the best.
NET, OPENINGS, FEW = 1.015, 1.10, 1.015


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
        Polisher(new, prices, lambda: False).settle(8, turning=False)
        lengths.append(new.trees[0].length())
    return min(lengths)


def nets() -> bool:
    ratios = []
    for name, points, optimum in OPTIMA:
        scale = 1.0 / max(1.0, *(max(p) for p in points))
        scaled = [(UNIT * scale * x, UNIT * scale * y) for x, y in points]
        ratios.append(lone_net(scaled) / (UNIT * scale * optimum))
        print(f"  {name}: {ratios[-1]:.4f}")
    return told("one net over its published optimum, worst", max(ratios), NET)


def tree_round(task: Task, polarity: str) -> float:
    """A short tree (mm) of one side over its cell's foot and the lights' places.

    Round all that is in its way but the lights and the other side: the cheapest way after way
    in a visibility graph with junctions from trees with nothing in their way.
    """
    board = Board(task, rooms(task)[0])
    net = next(n for n, spec in enumerate(board.nets) if spec.polarity == polarity)
    pad = getattr(task.cells[0], polarity).centroid
    ends: list[At] = [(pad.x, pad.y), *(light.at for light in task.lights)]
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


def openings() -> bool:
    ratios = []
    for card in cards_of("openings"):
        task = task_of(card, Choices(effort=1, fewer_strips=0.2))
        layout = route(task)
        assert isinstance(layout, Layout)
        trees = sum(tree_round(task, polarity) for polarity in ("positive", "negative"))
        ratios.append(layout.figures.length / trees)
        print(f"  {card['name']}: {ratios[-1]:.3f}", flush=True)
    mean = statistics.mean(ratios)
    worst = f"worst {max(ratios):.3f}, {sum(r <= OPENINGS for r in ratios)} of {len(ratios)} within"
    return told(f"opening boards over two trees, mean ({worst})", mean, OPENINGS)


def best() -> bool:
    known = json.loads(BEST.read_text("utf-8"))
    ratios = []
    for card in (card for card in cards_of("small") if card["name"] in known):
        layout = route(task_of(card, Choices(fewer_strips=0.0)))
        assert isinstance(layout, Layout)
        ratios.append(layout.figures.length / known[card["name"]])
        print(f"  {card['name']}: {ratios[-1]:.4f}", flush=True)
    inside = sum(ratio <= FEW for ratio in ratios)
    words = f"three and four lights over the best known, worst ({inside} of {len(ratios)} within)"
    return told(words, max(ratios), FEW)


def told(words: str, measured: float, limit: float) -> bool:
    holds = measured <= limit
    print(f"{words}: {measured:.4f}, limit {limit}: {'holds' if holds else 'DOES NOT HOLD'}")
    return holds


PARTS = {"nets": nets, "openings": openings, "best": best}


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("parts", nargs="*", choices=["nets", "openings", "best"])
    done = [PARTS[part]() for part in parser.parse_args().parts or PARTS]
    return 0 if all(done) else 1


if __name__ == "__main__":
    sys.exit(main())
