"""What an independent computation says: largest inscribed circles by pixels, light by hand.

Nothing here uses shapely to decide (only to hand over rings): pixels are painted line by line,
scipy's distance transform finds where circles are large, and cells round these places are cut finer
with exact distances to the densely marked edge until none can be better.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
from scipy import ndimage
from scipy.spatial import cKDTree
from shapely.geometry.base import BaseGeometry

#: Pixels along the longer side, spacing of marks on the edge and accuracy of the search (mm).
PIXELS = 500
MARKS = 0.03
FINE = 0.004


def rings_of(area: BaseGeometry) -> list[tuple[np.ndarray, list[np.ndarray]]]:
    """(shell, holes) of every polygon."""
    parts = list(getattr(area, "geoms", [area]))
    return [
        (np.array(p.exterior.coords), [np.array(hole.coords) for hole in p.interiors])
        for p in parts
    ]


def marked_edge(area: BaseGeometry) -> np.ndarray:
    """Points on the edge, no two neighbours farther apart than `MARKS`."""
    points = []
    for shell, holes in rings_of(area):
        for ring in (shell, *holes):
            for a, b in itertools.pairwise(ring):
                n = max(1, math.ceil(math.dist(a, b) / MARKS))
                points.append(a + (b - a) * (np.arange(n) / n)[:, None])
    return np.concatenate(points)


def largest_radius(area: BaseGeometry) -> float:
    """Radius of the largest circle inside an area, within about `FINE` mm."""
    left, top, right, bottom = area.bounds
    pixel = max(right - left, bottom - top) / PIXELS
    width = math.ceil((right - left) / pixel) + 3
    height = math.ceil((bottom - top) / pixel) + 3
    inside = np.zeros((height, width + 1), dtype=bool)
    for shell, holes in rings_of(area):
        for ring in (shell, *holes):
            _toggle(inside, (ring - (left, top)) / pixel + 1.0)
    inside = np.logical_xor.accumulate(inside, axis=1)
    away = ndimage.distance_transform_edt(inside) * pixel
    rows, columns = np.nonzero(away >= away.max() - 3.0 * pixel)
    cells = np.stack([columns - 1.0, rows - 1.0], axis=1) * pixel + (left, top)
    return _refined(cells, pixel / 2.0, cKDTree(marked_edge(area)))


def _toggle(inside: np.ndarray, ring: np.ndarray) -> None:
    """Mark in every row where an edge of a ring crosses its middle (even-odd)."""
    for (x0, y0), (x1, y1) in itertools.pairwise(ring):
        if y0 != y1:
            low, high = sorted((y0, y1))
            rows = np.arange(math.ceil(low), math.ceil(high))
            columns = np.ceil(x0 + (rows - y0) * (x1 - x0) / (y1 - y0)).astype(int)
            np.logical_xor.at(inside, (rows, columns), True)


def _refined(cells: np.ndarray, half: float, edge: cKDTree) -> float:
    best = 0.0
    while True:
        radius = edge.query(cells)[0]
        best = max(best, float(radius.max()))
        if half < FINE:
            return best
        cells = cells[radius + half * math.sqrt(2.0) > best]
        half /= 2.0
        corners = np.array([[-half, -half], [half, -half], [-half, half], [half, half]])
        cells = (cells[:, None] + corners).reshape(-1, 2)


def clearance(area: BaseGeometry, at: tuple[float, float]) -> float:
    """Distance of a place from the marked edge (mm); minus where it lies outside (even-odd)."""
    far = float(cKDTree(marked_edge(area)).query(at)[0])
    crossings = 0
    for shell, holes in rings_of(area):
        for ring in (shell, *holes):
            for (x0, y0), (x1, y1) in itertools.pairwise(ring):
                if (y0 > at[1]) != (y1 > at[1]):
                    crossings += at[0] < x0 + (at[1] - y0) / (y1 - y0) * (x1 - x0)
    return far if crossings % 2 else -far


def lux(lenses: np.ndarray, points: np.ndarray, depth: float) -> np.ndarray:
    """(m, n) light of n lenses of 1 cd at m points: I0 cos^4 / depth^2 (120 degrees), mm."""
    apart = np.hypot(*(points[:, None] - lenses[None]).transpose(2, 0, 1))
    cosine = depth / np.hypot(apart, depth)
    return cosine**4 / depth**2 * 1e6
