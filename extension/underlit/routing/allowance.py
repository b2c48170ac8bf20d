"""How much may be tried: counted in moves, so that a drawing gets the same tape on any machine."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from .task import Task

#: Lights, and moves for so many at the effort of the beginning; between them in proportion.
#: Measured on a busy machine: a move takes 0.2 to 0.4 ms with up to 20 lights, 0.6 with 100, so
#: that the seconds a maker waits (2, 4, 10, 30 with 5, 12, 30, 100 lights) seldom cut a search off.
LIGHTS = (1, 3, 12, 20, 60, 100)
MOVES = (3500.0, 4600.0, 9000.0, 17_000.0, 32_000.0, 42_000.0)

#: A move takes so many times longer where tape in openings has its price.
OPENINGS = 1.4

#: What is a move: a change made or taken back. A node slid, or a light or bend seated anew, is so
#: many, by the time that it takes.
ATTEMPT, SLIDE, SEAT = 1.0, 0.4, 4.0


def moves_of(task: Task) -> float:
    """How many moves the effort for a task is worth: a third of the usual more for each step."""
    usual = float(np.interp(len(task.lights), LIGHTS, MOVES))
    effort = max(1, task.choices.effort)
    return usual * (1.0 + effort) / 3.0 / (OPENINGS if task.openings else 1.0)


class Allowance:
    """Moves that are left; called, it says whether they or the seconds are over."""

    def __init__(self, late: Callable[[], bool] = lambda: False) -> None:
        self.late = late
        self.left = math.inf

    def spend(self, moves: float) -> None:
        """Count moves that were tried."""
        self.left -= moves

    def __call__(self) -> bool:
        return self.left <= 0.0 or self.late()
