"""Pixel masks of shapes: what lies under the middle of a 0.05 mm pixel is painted.

Test-only dependencies: numpy, scipy (`ndimage.label`, `ndimage.distance_transform_edt`,
`spatial.cKDTree`). No geometry library and nothing of the tool.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage
from scipy.spatial import cKDTree

from kit.shapes import Circle, Line, Point, Poly, Shape, convex_pieces

STEP = 0.05
"""Side of a pixel, mm."""

Bits = NDArray[np.bool_]
Points = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Mask:
    """Painted pixels of a window: `bits[i, j]` is the pixel of row `top + i`, column `left + j`."""

    left: int
    top: int
    bits: Bits

    @property
    def bounds(self) -> tuple[int, int, int, int]:
        h, w = self.bits.shape
        return self.left, self.top, self.left + w, self.top + h

    @property
    def area(self) -> float:
        return float(self.bits.sum()) * STEP * STEP

    def __bool__(self) -> bool:
        return bool(self.bits.any())


EMPTY = Mask(0, 0, np.zeros((0, 0), dtype=bool))


def mask_of(shapes: Iterable[Shape]) -> Mask:
    """The union of what the shapes paint."""
    return union(_simple(p) for shape in shapes for p in convex_pieces(shape))


def _simple(shape: Shape) -> Mask:
    match shape:
        case Circle(centre, radius):
            return _disc(centre, radius)
        case Poly(points, holes):
            return _polygon([points, *holes])
        case Line():
            raise TypeError("strokes come as pieces")


def _window(x0: float, y0: float, x1: float, y1: float) -> tuple[int, int, int, int]:
    return (
        math.floor(x0 / STEP) - 1,
        math.floor(y0 / STEP) - 1,
        math.ceil(x1 / STEP) + 1,
        math.ceil(y1 / STEP) + 1,
    )


def _disc(centre: Point, radius: float) -> Mask:
    (x, y), r = centre, radius
    left, top, right, low = _window(x - r, y - r, x + r, y + r)
    xs = (np.arange(left, right) + 0.5) * STEP - x
    ys = (np.arange(top, low) + 0.5) * STEP - y
    return Mask(left, top, xs[None, :] ** 2 + ys[:, None] ** 2 <= r * r)


def _polygon(rings: list[tuple[Point, ...]]) -> Mask:
    """Even-odd filling by toggles at the crossings of each row's middle line."""
    every = np.array([p for ring in rings for p in ring])
    left, top, right, low = _window(*every.min(axis=0), *every.max(axis=0))
    toggles = np.zeros((low - top, right - left + 1), dtype=np.uint8)
    for ring in rings:
        for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
            _toggle(toggles, left, top, (ax, ay), (bx, by))
    return Mask(left, top, np.bitwise_xor.accumulate(toggles, axis=1)[:, :-1].astype(bool))


def _toggle(toggles: NDArray[np.uint8], left: int, top: int, a: Point, b: Point) -> None:
    (ax, ay), (bx, by) = (a, b) if a[1] <= b[1] else (b, a)
    first, last = math.ceil(ay / STEP - 0.5), math.ceil(by / STEP - 0.5)
    if last <= first:
        return
    rows = np.arange(first, last)
    ys = (rows + 0.5) * STEP
    xs = ax + (ys - ay) * (bx - ax) / (by - ay)
    cols = np.ceil(xs / STEP - 0.5).astype(int) - left
    toggles[rows - top, np.clip(cols, 0, toggles.shape[1] - 1)] ^= 1


def union(masks: Iterable[Mask]) -> Mask:
    parts = [m for m in masks if m.bits.size]
    if not parts:
        return EMPTY
    if len(parts) == 1:
        return parts[0]
    b = np.array([m.bounds for m in parts])
    left, top, right, low = b[:, 0].min(), b[:, 1].min(), b[:, 2].max(), b[:, 3].max()
    bits = np.zeros((low - top, right - left), dtype=bool)
    for m in parts:
        x0, y0, x1, y1 = m.bounds
        bits[y0 - top : y1 - top, x0 - left : x1 - left] |= m.bits
    return Mask(int(left), int(top), bits)


def overlap(a: Mask, b: Mask) -> Mask:
    """Pixels of both."""
    x0, y0 = max(a.left, b.left), max(a.top, b.top)
    x1, y1 = min(a.bounds[2], b.bounds[2]), min(a.bounds[3], b.bounds[3])
    if x1 <= x0 or y1 <= y0:
        return EMPTY
    return Mask(x0, y0, _cut(a, x0, y0, x1, y1) & _cut(b, x0, y0, x1, y1))


def _cut(m: Mask, x0: int, y0: int, x1: int, y1: int) -> Bits:
    return m.bits[y0 - m.top : y1 - m.top, x0 - m.left : x1 - m.left]


def without(a: Mask, b: Mask) -> Mask:
    """Pixels of a that are not in b."""
    x0, y0 = max(a.left, b.left), max(a.top, b.top)
    x1, y1 = min(a.bounds[2], b.bounds[2]), min(a.bounds[3], b.bounds[3])
    if x1 <= x0 or y1 <= y0:
        return a
    bits = a.bits.copy()
    bits[y0 - a.top : y1 - a.top, x0 - a.left : x1 - a.left] &= ~_cut(b, x0, y0, x1, y1)
    return Mask(a.left, a.top, bits)


def pieces(m: Mask) -> list[Mask]:
    """Connected pieces (pixels that share a side or a corner), top to bottom, left to right."""
    labels, _ = ndimage.label(m.bits, structure=np.ones((3, 3)))
    out = []
    for k, window in enumerate(ndimage.find_objects(labels), start=1):
        rows, cols = window
        out.append(Mask(m.left + cols.start, m.top + rows.start, labels[window] == k))
    return out


def edge_points(m: Mask) -> Points:
    """Middles of the painted pixels that have an unpainted neighbour, shape (n, 2), mm."""
    padded = np.pad(m.bits, 1)
    inner = padded[:-2, 1:-1] & padded[2:, 1:-1] & padded[1:-1, :-2] & padded[1:-1, 2:]
    rows, cols = np.nonzero(m.bits & ~inner)
    return np.column_stack([cols + m.left + 0.5, rows + m.top + 0.5]) * STEP


def centroid(m: Mask) -> Point:
    rows, cols = np.nonzero(m.bits)
    return (
        float((cols.mean() + m.left + 0.5) * STEP),
        float((rows.mean() + m.top + 0.5) * STEP),
    )


def widest(m: Mask) -> float:
    """Twice the largest inscribed radius, mm."""
    return float(2 * ndimage.distance_transform_edt(np.pad(m.bits, 1)).max()) * STEP


def depth(m: Mask) -> float:
    """Largest distance from a painted pixel to the mask's edge, mm; 0 for nothing."""
    return widest(m) / 2 if m else 0.0


def contains(m: Mask, points: Points) -> Bits:
    """Which of the points lie on painted pixels."""
    cols = np.floor(points[:, 0] / STEP).astype(int) - m.left
    rows = np.floor(points[:, 1] / STEP).astype(int) - m.top
    h, w = m.bits.shape
    inside = (cols >= 0) & (rows >= 0) & (cols < w) & (rows < h)
    out = np.zeros(len(points), dtype=bool)
    out[inside] = m.bits[rows[inside], cols[inside]]
    return out


@dataclass(frozen=True, eq=False)
class Closest:
    """Smallest distance between two point sets, and the middles of all pairs that are tied."""

    distance: float
    middles: Points


FAR = Closest(math.inf, np.zeros((0, 2)))


def closest(a: Points, b: Points, tie: float = 0.06, reach: float = 6.0) -> Closest:
    """Nearest pairs of a and b (mm), `FAR` when nothing is within `reach`."""
    if not len(a) or not len(b):
        return FAR
    low, high = b.min(axis=0) - reach, b.max(axis=0) + reach
    a = a[((a >= low) & (a <= high)).all(axis=1)]
    if not len(a):
        return FAR
    low, high = a.min(axis=0) - reach, a.max(axis=0) + reach
    b = b[((b >= low) & (b <= high)).all(axis=1)]
    if not len(b):
        return FAR
    distances, index = cKDTree(b).query(a, distance_upper_bound=reach)
    best = float(distances.min())
    if not math.isfinite(best):
        return FAR
    tied = distances <= best + tie
    return Closest(best, (a[tied] + b[index[tied]]) / 2)
