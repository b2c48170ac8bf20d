"""Areas -> the share of each pixel that they cover. Exact along a row, four rows to a pixel."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..records import record

#: Lines that are looked at in one row of pixels.
LINES = 4


@record
class Grid:
    """Pixels over a box of the page: `left`, `top` in mm, `across` and `down` mm per pixel."""

    left: float
    top: float
    across: float
    down: float
    width: int
    height: int

    def part(self, rows: slice, columns: slice) -> Grid:
        """The grid of some of the rows and columns."""
        return Grid(
            self.left + columns.start * self.across,
            self.top + rows.start * self.down,
            self.across,
            self.down,
            columns.stop - columns.start,
            rows.stop - rows.start,
        )

    def over(self, area: BaseGeometry, margin: int = 1) -> tuple[slice, slice]:
        """(rows, columns) that hold an area, with a margin of pixels."""
        x0, y0, x1, y1 = area.bounds
        columns = _span((x0 - self.left) / self.across, (x1 - self.left) / self.across, margin)
        rows = _span((y0 - self.top) / self.down, (y1 - self.top) / self.down, margin)
        return _within(rows, self.height), _within(columns, self.width)

    def centres(self) -> tuple[np.ndarray, np.ndarray]:
        """(width,) x and (height,) y of pixel centres, page mm."""
        xs = self.left + (np.arange(self.width) + 0.5) * self.across
        ys = self.top + (np.arange(self.height) + 0.5) * self.down
        return xs, ys


def coverage(area: BaseGeometry, grid: Grid) -> np.ndarray:
    """(height, width) float64 in 0..1: the share of each pixel inside a (multi)polygon.

    Every edge is met by the lines through the rows; a line is inside right of an odd number of
    edges. Summing signed steps from left to right gives all of a row at once.
    """
    ends = _edges(area)
    ends = (ends - (grid.left, grid.top)) / (grid.across, grid.down)
    ends[:, :, 1] *= LINES
    row, x, sign = _crossings(ends, grid.height * LINES)
    row //= LINES
    x = np.clip(x, 0.0, grid.width)
    column = np.minimum(x.astype(np.int64), grid.width)
    later = x - column
    stride = grid.width + 2
    place = row * stride + column
    size = grid.height * stride
    steps = np.bincount(place, sign * (1.0 - later), size)
    steps += np.bincount(place + 1, sign * later, size)
    found = np.cumsum(steps.reshape(grid.height, stride), axis=1)[:, : grid.width] / LINES
    return np.clip(found, 0.0, 1.0)


def _edges(area: BaseGeometry) -> np.ndarray:
    """(n, 2, 2) ends of all edges, the inside always on the same hand."""
    polygons = shapely.get_parts(area)
    polygons = polygons[shapely.get_type_id(polygons) == 3]  # 3: polygon
    rings = shapely.get_rings(shapely.orient_polygons(polygons))
    points, ring = shapely.get_coordinates(rings, return_index=True)
    same = ring[1:] == ring[:-1]
    return np.stack([points[:-1][same], points[1:][same]], axis=1)


def _crossings(ends: np.ndarray, lines: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(line, x, sign) of every meeting of an edge with the middles of lines 0 .. lines - 1."""
    (x0, y0), (x1, y1) = ends[:, 0].T, ends[:, 1].T
    sign = np.where(y1 > y0, -1.0, 1.0)
    first = np.clip(np.ceil(np.minimum(y0, y1) - 0.5), 0, lines).astype(np.int64)
    last = np.clip(np.ceil(np.maximum(y0, y1) - 0.5), 0, lines).astype(np.int64)
    count = last - first
    edge = np.repeat(np.arange(len(ends)), count)
    line = np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count) + first[edge]
    share = (line + 0.5 - y0[edge]) / (y1 - y0)[edge]
    return line, x0[edge] + share * (x1 - x0)[edge], sign[edge]


def _span(low: float, high: float, margin: int) -> slice:
    return slice(int(np.floor(low)) - margin, int(np.ceil(high)) + margin)


def _within(span: slice, size: int) -> slice:
    start = min(max(span.start, 0), size)
    return slice(start, max(start, min(span.stop, size)))
