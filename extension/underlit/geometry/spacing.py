"""Distances of places to look at: as near as wished, but on something vast no more than so many.

A stray object may be kilometres large; what is looked at there may be coarse, but not endless.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

#: Most places along one line, and most of one grid.
ALONG, ALL_OVER = 4_000, 500_000


def step_along(step: float, length: float, most: int = ALONG) -> float:
    """The step (mm), or what divides a line of this length (mm) into `most`."""
    return max(step, length / most)


def step_over(step: float, bounds: Sequence[float], most: int = ALL_OVER) -> float:
    """The step (mm), or that of a grid over bounds (x0, y0, x1, y1; mm) of at most `most`.

    Both sides are looked at on their own too: a line has no area.
    """
    wide, high = bounds[2] - bounds[0], bounds[3] - bounds[1]
    return max(step, math.sqrt(wide * high / most), max(wide, high) / most)
