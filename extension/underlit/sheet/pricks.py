"""Where a pin goes through the stencil: corners, and places along curves."""

from __future__ import annotations

import numpy as np
from shapely.geometry.base import BaseGeometry

from . import look
from .content import Disc, Item
from .drawing import Fit, outline, rings

#: Pricks along a curve stand so far apart (mm); a corner turns at least so much (degrees).
PRICKS, CORNER = 8.0, 12.0


def pricked(geometry: BaseGeometry, fit: Fit) -> list[Item]:
    """Pale edges, and a ring at every corner and along curves."""
    items = outline(geometry, fit, 0.1, look.GREY, (1.0, 1.0))
    for ring in rings(geometry, fit):
        for x, y in prick_points(np.array(ring)):
            items.append(Disc((float(x), float(y)), 0.6, None, look.INK, 0.2))
    return items


def prick_points(ring: np.ndarray) -> np.ndarray:
    """(n, 2) ring -> (m, 2) places to prick: corners, and on curves one every `PRICKS` mm."""
    ahead, behind = np.roll(ring, -1, axis=0) - ring, ring - np.roll(ring, 1, axis=0)
    turn = np.abs(np.degrees(np.arctan2(
        behind[:, 0] * ahead[:, 1] - behind[:, 1] * ahead[:, 0], (behind * ahead).sum(axis=1)
    )))  # fmt: skip
    corner = turn >= CORNER
    steps = np.hypot(*ahead.T)
    straight = steps > PRICKS
    keep = []
    since = np.inf
    for i in range(len(ring)):
        curve_end = turn[i] > 0.5 and (straight[i] or straight[i - 1])
        if corner[i] or curve_end or since >= PRICKS:
            keep.append(i)
            since = 0.0
        since += steps[i]
    return ring[keep]
