"""Places of least sum of distances: junctions of shortest trees."""

from __future__ import annotations

import math
from collections.abc import Sequence

At = tuple[float, float]


def middle(points: Sequence[At], start: At) -> At:
    """The place of least sum of distances to a few points (Weiszfeld's steps)."""
    if len(points) == 1:
        return points[0]
    x, y = start
    for _ in range(12):
        sx = sy = sw = 0.0
        for px, py in points:
            w = 1.0 / max(math.hypot(px - x, py - y), 1e-6)
            sx, sy, sw = sx + w * px, sy + w * py, sw + w
        x, y = sx / sw, sy / sw
    return (x, y)


def steiner_point(p: At, q: At, r: At) -> At | None:
    """Torricelli point of a triangle; None where an angle is 120 degrees or more."""
    a, b, c = math.dist(q, r), math.dist(p, r), math.dist(p, q)
    if min(a, b, c) < 1e-9:
        return None
    weights = []
    for near, far1, far2 in ((a, b, c), (b, a, c), (c, a, b)):
        cosine = (far1 * far1 + far2 * far2 - near * near) / (2.0 * far1 * far2)
        angle = math.acos(max(-1.0, min(1.0, cosine)))
        if angle >= 2.0 * math.pi / 3.0 - 1e-6:
            return None
        weights.append(near / math.sin(angle + math.pi / 3.0))
    total = sum(weights)
    return (
        (weights[0] * p[0] + weights[1] * q[0] + weights[2] * r[0]) / total,
        (weights[0] * p[1] + weights[1] * q[1] + weights[2] * r[1]) / total,
    )
