"""The verifier finds what is broken on purpose."""

from __future__ import annotations

import dataclasses
from random import Random

from underlit.routing import Layout, Strip, route

from .boards import random_board
from .verifier import faults


def moved(strip: Strip, dx: float, dy: float) -> Strip:
    return dataclasses.replace(strip, points=tuple((x + dx, y + dy) for x, y in strip.points))


def broken(layout: Layout, random: Random) -> tuple[str, Layout]:
    """A layout with one harmful change."""
    k = random.randrange(len(layout.strips))
    strips = list(layout.strips)
    how = random.choice(["delete", "swap", "shift", "shorten", "turn"])
    if how == "delete":
        del strips[k]
    elif how == "swap":
        other = {"positive": "negative", "negative": "positive"}[strips[k].polarity]
        strips[k] = dataclasses.replace(strips[k], polarity=other)
    elif how == "shift":
        strips[k] = moved(strips[k], *random.choice([(9.0, 0.0), (0.0, 9.0), (-9.0, 0.0)]))
    elif how == "shorten":
        strips[k] = dataclasses.replace(
            strips[k], points=strips[k].points[: len(strips[k].points) // 2 + 1]
        )
        if len(strips[k].points) == len(layout.strips[k].points):
            del strips[k]
    angles = dict(layout.angles)
    if how == "turn":
        name = random.choice(sorted(angles))
        angles[name] += 180.0
    return how, dataclasses.replace(layout, strips=tuple(strips), angles=angles)


def test_every_harmful_change_is_found() -> None:
    found = missed = 0
    for seed in range(3):
        task = random_board(5, seed)
        assert task is not None
        layout = route(task)
        assert isinstance(layout, Layout)
        assert faults(task, layout) == []
        random = Random(seed)
        for _ in range(40):
            how, worse = broken(layout, random)
            if faults(task, worse):
                found += 1
            else:
                missed += 1
                print(seed, how)
    assert missed == 0
    assert found == 120
