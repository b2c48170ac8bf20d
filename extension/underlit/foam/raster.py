"""The ground as a raster, so that many rectangles can be tried at once."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_over
from ..records import record

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Bools = NDArray[np.bool_]
    Box = tuple[float, float, float, float]

#: Side of a cell (mm), and most cells of a raster (a larger sheet gets larger cells).
CELL = 0.5
MOST = 600_000


@record
class Raster:
    """Cells of side `cell` from (`left`, `top`) on. `free` (rows, columns): whole cell is free."""

    left: float
    top: float
    cell: float
    free: Bools


def raster_of(free: BaseGeometry, outline: BaseGeometry) -> Raster:
    """A raster over `outline`, symmetric about its middle. A free cell lies in `free` wholly."""
    left, top, right, bottom = outline.bounds
    cell = step_over(CELL, outline.bounds, MOST)
    columns, rows = (2 * math.ceil(side / (2.0 * cell)) for side in (right - left, bottom - top))
    x0 = (left + right) / 2.0 - columns / 2 * cell
    y0 = (top + bottom) / 2.0 - rows / 2 * cell
    # a cell whose middle is half its diagonal inside lies inside
    sure = shapely.buffer(free, -cell * math.sqrt(0.5) - 1e-6)
    shapely.prepare(sure)
    xs, ys = x0 + (np.arange(columns) + 0.5) * cell, y0 + (np.arange(rows) + 0.5) * cell
    inside = shapely.contains_xy(sure, *np.meshgrid(xs, ys))
    return Raster(x0, y0, cell, np.asarray(inside))


def sums_of(raster: Raster) -> NDArray[np.int64]:
    """(rows + 1, columns + 1) number of free cells above and left of each corner."""
    padded = np.zeros((raster.free.shape[0] + 1, raster.free.shape[1] + 1), dtype=np.int64)
    padded[1:, 1:] = raster.free.cumsum(axis=0).cumsum(axis=1)
    return padded


def places(
    raster: Raster,
    sums: NDArray[np.int64],
    size: tuple[float, float],
    about: tuple[float, float],
    within: float,
    stride: int = 1,
) -> Floats:
    """(k, 4) boxes of a size that are free, with the middle at most `within` from a place (in x
    and in y)."""
    wide, high = (max(1, round(side / raster.cell)) for side in size)
    i0, i1 = _span(about[0] - raster.left, wide, within, raster, 1)
    j0, j1 = _span(about[1] - raster.top, high, within, raster, 0)
    if i1 < i0 or j1 < j0:
        return np.empty((0, 4))
    i, j = np.meshgrid(np.arange(i0, i1 + 1, stride), np.arange(j0, j1 + 1, stride))
    full = sums[j + high, i + wide] - sums[j, i + wide] - sums[j + high, i] + sums[j, i]
    fits = full == wide * high
    i, j = i[fits], j[fits]
    x, y = raster.left + i * raster.cell, raster.top + j * raster.cell
    return np.column_stack([x, y, x + wide * raster.cell, y + high * raster.cell])


def _span(middle: float, cells: int, within: float, raster: Raster, axis: int) -> tuple[int, int]:
    """First and last cell at which a box of so many cells may begin."""
    first = (middle - within) / raster.cell - cells / 2
    last = (middle + within) / raster.cell - cells / 2
    most = raster.free.shape[axis] - cells
    return max(0, math.ceil(first - 1e-9)), min(most, math.floor(last + 1e-9))


def taken(raster: Raster, box: Box, beside: float) -> Raster:
    """The raster without a box and what lies within `beside` of it."""
    i0, i1 = ((x - raster.left) / raster.cell for x in (box[0] - beside, box[2] + beside))
    j0, j1 = ((y - raster.top) / raster.cell for y in (box[1] - beside, box[3] + beside))
    free = raster.free.copy()
    free[
        max(0, math.floor(j0 + 1e-9)) : math.ceil(j1 - 1e-9),
        max(0, math.floor(i0 + 1e-9)) : math.ceil(i1 - 1e-9),
    ] = False
    return Raster(raster.left, raster.top, raster.cell, free)


def without(raster: Raster, area: BaseGeometry, beside: float) -> Raster:
    """The raster without an area and what lies within `beside` of it."""
    rows, columns = raster.free.shape
    gone = shapely.buffer(area, beside + raster.cell * math.sqrt(0.5))
    shapely.prepare(gone)
    xs = raster.left + (np.arange(columns) + 0.5) * raster.cell
    ys = raster.top + (np.arange(rows) + 0.5) * raster.cell
    hit = shapely.contains_xy(gone, *np.meshgrid(xs, ys))
    return Raster(raster.left, raster.top, raster.cell, raster.free & ~hit)
