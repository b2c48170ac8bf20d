"""The best of three and four lights, by trying: `python tests/benchmarks/routing/exhaustive.py`.

Every light of each board of the set `small` is turned to every sixth of a turn, all combinations;
each is laid plus first and minus first, the shortest are polished as routing does (which turns
lights on, by 3 degrees at the finest), and both sides are laid anew in turn until nothing gets
shorter. Writes the shortest sound length of each board to `exhaustive.json` where it is shorter
than what is there. Takes up to a minute for each board.
"""

from __future__ import annotations

import heapq
import itertools
import json
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
sys.path[:0] = [str(ROOT / "extension"), str(ROOT / "tests")]

from benchmarks.routing.cards import cards_of, task_of  # noqa: E402
from routing.verifier import faults  # noqa: E402
from underlit.routing import Choices, Task  # noqa: E402
from underlit.routing.allowance import Allowance  # noqa: E402
from underlit.routing.assemble import assembled  # noqa: E402
from underlit.routing.board import Board  # noqa: E402
from underlit.routing.levels import rooms  # noqa: E402
from underlit.routing.polish import Polisher  # noqa: E402
from underlit.routing.price import Prices, cost_of  # noqa: E402
from underlit.routing.weave import lay, relay, turned  # noqa: E402

BEST = Path(__file__).parent / "exhaustive.json"

#: Length alone counts; what a run costs keeps needless bends away.
SHORTEST = Prices(0.1, 0.0, 0.0)

#: Layouts that are polished, shortest first.
POLISHED = 16

#: Turns of each light (degrees).
TURNS = [60.0 * k for k in range(6)]


def drafts(task: Task) -> list[Board]:
    """The shortest rough layouts of all turns and both orders."""
    empty = Board(task, rooms(task)[0])
    found: list[tuple[float, int, Board]] = []
    number = 0
    for angles in itertools.product(TURNS, repeat=len(task.lights)):
        for order in ((0, 1), (1, 0)):
            board = turned(empty, angles)
            if all(_laid(board, net) for net in order):
                number += 1
                draft = (-cost_of(board, SHORTEST), number, board)
                (heapq.heappush if len(found) < POLISHED else heapq.heappushpop)(found, draft)
    return [board for _, _, board in sorted(found, reverse=True)]


def _laid(board: Board, net: int) -> bool:
    board.trees[net], cut = lay(board, net, SHORTEST.run)
    board.changed()
    return not cut


def polished(board: Board) -> Board:
    """A board with both sides laid anew in turn as long as that shortens it."""
    best = board.clone()
    Polisher(best, SHORTEST, Allowance()).settle(8)
    while True:
        before = cost_of(best, SHORTEST)
        for net, hubs in itertools.product((0, 1), (False, True)):
            new = relay(best, net, SHORTEST.run, hubs)
            if new is not None:
                Polisher(new, SHORTEST, Allowance()).settle(8)
                best = min(best, new, key=lambda b: cost_of(b, SHORTEST))
        if cost_of(best, SHORTEST) > before - 0.01:
            return best


def shortest(task: Task) -> float:
    """Length (mm) of the shortest sound layout found."""
    lengths = []
    for draft in drafts(task):
        layout = assembled(polished(draft), SHORTEST)
        if layout is not None and not faults(task, layout):
            lengths.append(layout.figures.length)
    return min(lengths)


def main() -> None:
    known = json.loads(BEST.read_text("utf-8")) if BEST.exists() else {}
    for card in cards_of("small"):
        length = round(shortest(task_of(card, Choices(fewer_strips=0.0))), 2)
        known[card["name"]] = min(length, known.get(card["name"], length))
        print(card["name"], length, known[card["name"]], flush=True)
        lines = ",\n".join(f'"{name}": {known[name]}' for name in sorted(known))
        BEST.write_text("{\n" + lines + "\n}\n", "utf-8")


if __name__ == "__main__":
    main()
