"""Folds that move often: crossed square where there is room, aslant only where there is not."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from shapely.affinity import rotate
from shapely.geometry import LineString, box

from underlit.routing import Choices, FoldLine, Layout, Obstacle, Task, layouts

from .boards import BARE, holder, light
from .verifier import faults


def folded(slope: float, *things: Obstacle) -> Task:
    """Two lights beyond a fold that leans by some degrees."""
    fold = rotate(LineString([(72, -40), (72, 150)]), slope)
    fold = fold.intersection(box(0, 0, 150, 110))
    lights = (light("L1", (112.0, 30.0)), light("L2", (122.0, 72.0)))
    return Task(
        box(0, 0, 150, 110),
        lights,
        (holder((28.0, 55.0), 90.0),),
        things,
        folds=(FoldLine("fold", fold),),
        limits=BARE,
        choices=Choices(effort=1),
    )


def crossings(task: Task, layout: Layout) -> list[float]:
    """Angles (degrees, 90 is square) at which strips cross the fold."""
    line = task.folds[0].line
    (ax, ay), (bx, by) = line.coords[0], line.coords[-1]
    along = math.atan2(by - ay, bx - ax)
    found = []
    for strip in layout.strips:
        for p, q in pairwise(strip.points):
            if LineString([p, q]).crosses(line):
                turn = math.degrees(math.atan2(q[1] - p[1], q[0] - p[0]) - along)
                found.append(90.0 - abs(turn % 180.0 - 90.0))
    return found


@pytest.mark.parametrize("slope", [0.0, 25.0, -40.0])
def test_a_fold_is_crossed_square(slope: float) -> None:
    task = folded(slope)
    for layout in layouts(task):
        assert isinstance(layout, Layout)
        assert faults(task, layout) == []
        angles = crossings(task, layout)
        assert len(angles) == 2
        assert min(angles) >= 85.0 - 0.1


def test_a_corridor_aslant_to_the_fold_is_still_passed() -> None:
    """Windows leave a level corridor of 15 mm; the fold across it leans by 30 degrees."""
    above, below = box(52, 2, 100, 47.5), box(52, 62.5, 100, 108)
    task = folded(30.0, Obstacle("window 1", above, 1.0), Obstacle("window 2", below, 1.0))
    layout = next(iter(layouts(task)))
    assert isinstance(layout, Layout)
    assert faults(task, layout) == []
    assert all(55.0 < angle < 70.0 for angle in crossings(task, layout))
