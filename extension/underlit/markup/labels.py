"""Where words fit: inside an area, clear of what else lies there. Page mm."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from .primitives import Point

#: Width of a letter of bold sans-serif type over its size in the mean, and height of a capital
#: (measured on DejaVu Sans Bold, digits and "Piece").
LETTER, CAPITAL = 0.7, 0.73

#: Places are tried on a grid of so many steps each way.
STEPS = 12

#: What rounding may take from a place right at an edge (mm).
HAIR = 1e-6

#: Space that words keep round them, over their size.
AIR = 0.15


def words_box(text: str, at: Point, size: float) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a line of words whose middle is at a place."""
    half = size * (LETTER * len(text) / 2.0 + AIR)
    high = size * (CAPITAL / 2.0 + AIR)
    return (at[0] - half, at[1] - high, at[0] + half, at[1] + high)


def fitting(
    text: str, area: BaseGeometry, sizes: Sequence[float], wanted: Point
) -> tuple[Point, float] | None:
    """Middle and size of a line of words inside an area, None where no size fits.

    The first size that fits anywhere counts, at the place nearest to the wanted one.
    """
    if area.is_empty:
        return None
    x0, y0, x1, y1 = area.bounds
    shapely.prepare(area)
    for size in sizes:
        left, top, right, bottom = words_box(text, (0.0, 0.0), size)
        if right - left > x1 - x0 or bottom - top > y1 - y0:
            continue
        xs, ys = np.meshgrid(
            np.linspace(x0 - left + HAIR, x1 - right - HAIR, STEPS),
            np.linspace(y0 - top + HAIR, y1 - bottom - HAIR, STEPS),
        )
        boxes = shapely.box(xs + left, ys + top, xs + right, ys + bottom)
        fits = np.flatnonzero(shapely.covers(area, boxes))
        if len(fits):
            far = np.hypot(xs.flat[fits] - wanted[0], ys.flat[fits] - wanted[1])
            best = fits[int(np.argmin(np.round(far, 6)))]
            return (float(xs.flat[best]), float(ys.flat[best])), size
    return None
