"""Rays of light followed one by one, in plain arithmetic: nothing of the tool's geometry in it.

Foam fills all the height between back sheet and panel, so a ray is stopped by it where its shadow
on the sheet crosses the foam's outline.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

Point = tuple[float, float]
Ring = Sequence[Point]


def inside(point: Point, ring: Ring) -> bool:
    """Even-odd crossing count of a ray to the right."""
    x, y = point
    odd = False
    for (ax, ay), (bx, by) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            odd = not odd
    return odd


def crosses(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether segments a-b and c-d cross (end touches do not count)."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0.0 and side(c, d, a) * side(c, d, b) < 0.0


def stopped(start: Point, end: Point, ring: Ring) -> bool:
    """Whether a ray from the lens to the window meets foam of this outline."""
    if inside(start, ring) or inside(end, ring):
        return True
    sides = zip(ring, [*ring[1:], ring[0]], strict=True)
    return any(crosses(start, end, c, d) for c, d in sides)


def starts(at: Point, radius: float, number: int = 8) -> list[Point]:
    """Places on a round lens: its middle and its rim."""
    turns = [math.tau * k / number for k in range(number)]
    return [at, *((at[0] + radius * math.cos(t), at[1] + radius * math.sin(t)) for t in turns)]


def rays_to(
    at: Point, radius: float, window: Ring, reach: float, step: float = 1.5
) -> list[tuple[Point, Point]]:
    """Rays from all over a lens to all over its window that go at most `reach` to the side."""
    xs, ys = [p[0] for p in window], [p[1] for p in window]
    ends: list[Point] = [*window]
    for i in range(math.ceil((max(xs) - min(xs)) / step) + 1):
        for j in range(math.ceil((max(ys) - min(ys)) / step) + 1):
            place = (min(xs) + i * step, min(ys) + j * step)
            if inside(place, window):
                ends.append(place)
    return [
        (start, end)
        for start in starts(at, radius)
        for end in ends
        if math.dist(start, end) <= reach
    ]
