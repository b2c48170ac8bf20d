"""A frame along the edge: straight strips of an upright panel, cut bands of any other."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from .ground import BESIDE_FOAM
from .raster import Raster

if TYPE_CHECKING:
    from numpy.typing import NDArray

#: Width of a frame's strips (mm), the narrowest that a hand cuts, the shortest worth cutting.
WIDTH = 5.0
NARROWEST = 3.0
SHORTEST = 8.0

#: An outline that fills its bounds so far is an upright rectangle (some corner may be cut off).
UPRIGHT = 0.9


def frame(bed: BaseGeometry, raster: Raster, free: BaseGeometry) -> list[BaseGeometry]:
    """Pieces of a frame just inside `bed`, wherever foam is free to lie.

    `bed` is the area up to the margin; `raster` that of `free`.
    """
    if bed.is_empty:  # a panel hardly larger than its margin
        return []
    whole = box(*bed.bounds)
    if bed.area >= UPRIGHT * whole.area:
        return _straight(bed.bounds, raster)
    return _bent(bed, free)


def _straight(bounds: tuple[float, float, float, float], raster: Raster) -> list[BaseGeometry]:
    left, top, right, bottom = bounds
    inner = top + WIDTH + BESIDE_FOAM, bottom - WIDTH - BESIDE_FOAM
    bars = (
        (left, top, right, top + WIDTH, False),
        (left, inner[0], left + WIDTH, inner[1], True),
        (right - WIDTH, inner[0], right, inner[1], True),
        (left, bottom - WIDTH, right, bottom, False),
    )
    found: list[BaseGeometry] = []
    for x0, y0, x1, y1, upright in bars:
        if x1 - x0 >= NARROWEST and y1 - y0 >= NARROWEST:
            found += _runs(raster, (x0, y0, x1, y1), upright)
    return found


def _runs(
    raster: Raster, bar: tuple[float, float, float, float], upright: bool
) -> list[BaseGeometry]:
    """The stretches of a bar that are free in its whole width, whole cells, square-cut."""
    x0, y0, x1, y1 = bar
    i0, i1 = _cells(x0, x1, raster.left, raster.cell)
    j0, j1 = _cells(y0, y1, raster.top, raster.cell)
    part = raster.free[j0:j1, i0:i1]
    lines = _widest(part if upright else part.T)
    if lines is None:
        return []
    first, last = lines
    block = (part if upright else part.T)[:, first:last]
    whole = block.all(axis=1)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], whole, [False]]).astype(int)))
    found: list[BaseGeometry] = []
    for a, b in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True):
        if (b - a) * raster.cell < SHORTEST:
            continue
        if upright:
            i, j = (i0 + first, i0 + last), (j0 + a, j0 + b)
        else:
            i, j = (i0 + a, i0 + b), (j0 + first, j0 + last)
        xs = [raster.left + k * raster.cell for k in i]
        ys = [raster.top + k * raster.cell for k in j]
        found.append(box(xs[0], ys[0], xs[1], ys[1]))
    return found


def _widest(part: NDArray[np.bool_]) -> tuple[int, int] | None:
    """First and last column of a bar that has any room (its outermost cells may be shy of it)."""
    columns = np.flatnonzero(part.any(axis=0))
    return (int(columns[0]), int(columns[-1]) + 1) if len(columns) else None


def _cells(low: float, high: float, start: float, cell: float) -> tuple[int, int]:
    """The whole cells between two places: from the first up to, not with, the second."""
    first, last = math.ceil((low - start) / cell - 1e-6), math.floor((high - start) / cell + 1e-6)
    return max(0, first), max(0, last)


def _bent(bed: BaseGeometry, free: BaseGeometry) -> list[BaseGeometry]:
    """The band inside a bent edge, divided above, below, left and right, to be cut with care."""
    band = shapely.difference(bed, shapely.buffer(bed, -WIDTH, join_style="mitre"))
    left, top, right, bottom = bed.bounds
    x, y, gap = (left + right) / 2.0, (top + bottom) / 2.0, BESIDE_FOAM / 2.0
    cross = [box(x - gap, top, x + gap, bottom), box(left, y - gap, right, y + gap)]
    pieces = shapely.difference(shapely.intersection(band, free), shapely.union_all(cross))
    thick = shapely.buffer(shapely.buffer(pieces, -NARROWEST / 2.0), NARROWEST / 2.0)
    sound = shapely.simplify(shapely.intersection(thick, pieces), 0.02)
    parts = shapely.get_parts(shapely.buffer(sound, 0.0))
    parts = [p for p in parts if p.geom_type == "Polygon" and p.area >= NARROWEST * SHORTEST]
    return sorted(parts, key=lambda p: (round(p.bounds[1], 3), round(p.bounds[0], 3)))
