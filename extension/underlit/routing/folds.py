"""Folds of the card that move often: crossed nearly square, without joint or bend near them."""

from __future__ import annotations

import numpy as np
import shapely

from ..geometry.spacing import step_along
from .task import Task

#: Joints, feet and bends keep this far from such a fold, beyond half the tape's width (mm).
KEEP = 5.0

#: Least angle between a strip and a fold (degrees): square but for what a hand strays; where there
#: is no room for that, some more than the 45 that wear allows.
SQUARE, STEEPEST = 85.0, 50.0

#: Gates along a fold (mm).
EVERY = 5.0


class Folds:
    """All folds of a board that move often."""

    def __init__(self, task: Task, steepest: float) -> None:
        self.lines = [fold.line for fold in task.folds if fold.often]
        self.aslant = float(np.cos(np.radians(steepest)))
        # where a strip overlaps another at a bend, its corners reach farther than its sides
        reach = 0.5 if task.choices.corners == "fold" else 0.5 * 2.0**0.5
        self.off = KEEP + reach * task.limits.width

    def allowed(self, rows: np.ndarray) -> np.ndarray:
        """(k,) whether centre lines (k, 4) cross no fold aslant and end near none."""
        good = np.ones(len(rows), dtype=bool)
        for line in self.lines:
            a, b = np.array(line.coords[0]), np.array(line.coords[-1])
            along = (b - a) / np.hypot(*(b - a))
            runs = shapely.linestrings(rows.reshape(-1, 2, 2))
            near = shapely.distance(runs, line) < self.off - 0.01
            way = rows[:, 2:] - rows[:, :2]
            size = np.maximum(np.hypot(way[:, 0], way[:, 1]), 1e-9)
            steep = np.abs(way @ along) / size <= self.aslant
            ends = shapely.points(rows.reshape(-1, 2, 2).reshape(-1, 2))
            clear = (shapely.distance(ends, line) >= self.off - 0.02).reshape(-1, 2).all(axis=1)
            good &= ~near | (steep & clear)
        return good

    def gates(self) -> np.ndarray:
        """(n, 2) places opposite each other on both sides of every fold."""
        found = []
        for line in self.lines:
            a, b = np.array(line.coords[0]), np.array(line.coords[-1])
            along = (b - a) / np.hypot(*(b - a))
            across = np.array([-along[1], along[0]]) * (self.off + 0.1)
            every = step_along(EVERY, line.length)
            for far in np.arange(every, line.length, every):
                found += [a + far * along + across, a + far * along - across]
        return np.array(found).reshape(-1, 2)
