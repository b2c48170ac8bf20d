"""Bent pieces nested into each other: on a grid, the lowest free place first.

Each piece is turned so that its longest edge lies level, grown by half the gap and laid on a grid
of 1 mm in four directions; every cell that it touches counts as taken, so what fits on the grid
fits. Free places are found all at once by Fourier transform (the convolution theorem).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from ..records import record

#: Side of a cell, and by how much cells are looked at smaller than they are (mm).
CELL = 1.0
EDGE = 1e-4

Grid = NDArray[np.bool_]


@record
class _Form:
    """One direction of a piece: its area, the corner of its grid, the cells that it takes."""

    area: Polygon
    corner: np.ndarray
    cells: Grid
    spectrum: NDArray[np.complex128]


def nest(
    areas: Sequence[Polygon], room: tuple[float, float], gap: float
) -> list[list[tuple[int, Polygon]]] | None:
    """Sheets of (number, area as it lies), 0, 0 at the corner of the room; None: one fits nowhere.

    `room` is width and height that may be used, `gap` what stays between pieces (mm).
    """
    shape = (int((room[1] + gap) // CELL), int((room[0] + gap) // CELL))
    known: dict[bytes, list[_Form]] = {}
    forms = []
    for area in areas:
        level = _levelled(area)
        key = shapely.to_wkb(shapely.set_precision(level, 1e-6))
        if key not in known:
            known[key] = _forms(level, shape, gap)
        if not known[key]:
            return None
        forms.append(known[key])
    sheets: list[Grid] = []
    found: list[list[tuple[int, Polygon]]] = []
    for i in sorted(range(len(areas)), key=lambda i: (-areas[i].area, i)):
        for k in range(len(sheets) + 1):
            if k == len(sheets):
                sheets.append(np.zeros(shape, dtype=bool))
                found.append([])
            area = _lay(sheets[k], forms[i])
            if area is not None:
                found[k].append((i, shapely.transform(area, lambda p: p - gap / 2.0)))
                break
    return found


def _levelled(area: Polygon) -> Polygon:
    """The area with its longest edge level and its corner at 0, 0."""
    ring = shapely.get_coordinates(area.exterior)
    edges = np.diff(ring, axis=0)
    x, y = edges[int(np.argmax(np.hypot(*edges.T)))]
    length = float(np.hypot(x, y))
    turn = np.array([[x, -y], [y, x]]) / length
    return _at_corner(shapely.transform(area, lambda points: points @ turn))


def _at_corner(area: Polygon) -> Polygon:
    low = np.array(area.bounds[:2])
    return shapely.transform(area, lambda points: points - low)


def _forms(area: Polygon, shape: tuple[int, int], gap: float) -> list[_Form]:
    """The directions in which a piece fits on the grid at all."""
    found = []
    for turns in range(4):
        quarter = np.linalg.matrix_power(np.array([[0, 1], [-1, 0]]), turns)
        turned = _at_corner(shapely.transform(area, lambda p, q=quarter: p @ q))
        grown = turned.buffer(gap / 2.0, join_style="mitre")
        corner = np.array(grown.bounds[:2])
        wide, deep = np.ceil((np.array(grown.bounds[2:]) - corner) / CELL - EDGE).astype(int)
        if deep > shape[0] or wide > shape[1]:
            continue
        cells = _cells(grown, corner, (int(deep), int(wide)))
        spectrum = np.conj(np.fft.rfft2(cells.astype(float), shape))
        found.append(_Form(turned, corner, cells, spectrum))
    return found


def _cells(area: Polygon, corner: np.ndarray, size: tuple[int, int]) -> Grid:
    """Every cell that an area touches."""
    top, left = np.mgrid[0 : size[0], 0 : size[1]] * CELL
    x, y = left.ravel() + corner[0], top.ravel() + corner[1]
    boxes = shapely.box(x + EDGE, y + EDGE, x + CELL - EDGE, y + CELL - EDGE)
    shapely.prepare(area)
    return np.asarray(shapely.intersects(area, boxes)).reshape(size)


def _lay(sheet: Grid, forms: Sequence[_Form]) -> Polygon | None:
    """Lay a piece at the lowest free place of all its directions; None where there is none."""
    taken = np.fft.rfft2(sheet.astype(float))
    best: tuple[int, int, int, int] | None = None
    for number, form in enumerate(forms):
        deep, wide = form.cells.shape
        clash = np.fft.irfft2(taken * form.spectrum, sheet.shape)
        free = clash[: sheet.shape[0] - deep + 1, : sheet.shape[1] - wide + 1] < 0.5
        places = np.argwhere(free)
        if len(places):
            row, column = (int(v) for v in places[0])
            option = (row + deep, column + wide, number, row)
            best = min(best, option) if best else option
    if best is None:
        return None
    end, side, number, row = best
    form = forms[number]
    deep, wide = form.cells.shape
    column = side - wide
    sheet[row:end, column:side] |= form.cells
    moved = np.array([column, row]) * CELL - form.corner
    return shapely.transform(form.area, lambda p: p + moved)
