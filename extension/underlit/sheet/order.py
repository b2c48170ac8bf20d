"""Making order: plus first, then minus, but nothing before what it lies on."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from .scene import Paper, Scene, Tape

#: Plus first: one side whole, then the other (papers as late as possible, but before what
#: lies on them).
_TURN = {"positive": 0, "negative": 1, None: 2}
_PAPER = 3


def making_order(scene: Scene) -> list[Tape | Paper]:
    """Tapes and papers as they are laid.

    Things that lie over each other keep their order of drawing; what does not may be laid at
    any time, so a side is laid whole where that is possible.
    """
    things: list[Tape | Paper] = [*scene.tapes, *scene.papers]
    things.sort(key=lambda thing: thing.order)
    waits = _waits(things)
    left = dict.fromkeys(range(len(things)))
    laid: list[int] = []
    while left:
        free = [i for i in left if not waits[i] & left.keys()]
        best = min(free, key=lambda i: (_turn(things[i]), i))
        del left[best]
        laid.append(best)
    return [things[i] for i in laid]


def _turn(thing: Tape | Paper) -> int:
    return _TURN[thing.sign] if isinstance(thing, Tape) else _PAPER


def _waits(things: Sequence[Tape | Paper]) -> list[set[int]]:
    """For each the numbers of those that lie below it."""
    waits: list[set[int]] = [set() for _ in things]
    if not things:
        return waits
    areas = np.array([thing.geometry for thing in things], dtype=object)
    pairs = shapely.STRtree(areas).query(areas, predicate="intersects").T
    for i, k in pairs.tolist():
        if k < i:
            waits[i].add(k)
    return waits
