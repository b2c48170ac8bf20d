"""Bent pieces nested into each other: on a grid, where they lie closest to what lies there.

Each piece is turned so that its longest edge lies level, grown by half the gap and laid on a grid
of 1 mm in four directions; every cell that it touches counts as taken, so what fits on the grid
fits. Of all free places that one is taken where most cells around the piece are taken already or
lie beyond the edge (the lowest of equals): it is found by Fourier transform (the convolution
theorem), for each shape once on each sheet. Sheets are filled one after the other, the largest
shape first, and a sheet is used again as long as there are pieces for it, so that many cards take
hardly longer than one.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from ..records import record
from .measuring import SAME, shape_keys

#: Side of a cell, and by how much cells are looked at smaller than they are (mm).
CELL = 1.0
EDGE = 1e-4

#: Cells that may be looked at before what is left is given back: a few seconds of work.
WORK = 60_000_000

#: Up to so many shapes their transforms are kept from sheet to sheet: 2 MB each.
KEPT = 40

#: What one clash counts: more than any piece has cells around it.
CLASH = -float(1 << 20)

Grid = NDArray[np.bool_]
Floats = NDArray[np.float64]
Spectrum = NDArray[np.complex128]

#: Rows and columns.
Shape = tuple[int, int]


@record
class Nested:
    """Sheets of (number, area as it lies), 0, 0 at the corner of the room; `left`: numbers of
    the pieces that are on none, because they fit nowhere or there are too many shapes."""

    sheets: tuple[tuple[tuple[int, Polygon], ...], ...]
    left: tuple[int, ...]


@record
class _Form:
    """One direction of a shape: by how many quarters it is turned, the cells that it takes."""

    turns: int
    cells: Grid

    @cached_property
    def feeler(self) -> Floats:
        """Its cells, which must not meet anything, and those around, which should."""
        wide = np.pad(self.cells, 1)
        around = wide.copy()
        for axis in (0, 1):
            for step in (-1, 1):
                around |= np.roll(wide, step, axis)
        return np.where(wide, CLASH, around)

    @cached_property
    def spectra(self) -> dict[Shape, Spectrum]:
        """The feeler's transforms, by the size of the sheet."""
        return {}

    def spectrum(self, size: Shape, keep: bool) -> Spectrum:
        """The feeler's transform for a sheet of this size."""
        found = self.spectra.get(size)
        if found is None:
            found = np.conj(np.fft.rfft2(self.feeler, size))
            if keep:
                self.spectra[size] = found
        return found


@record
class _Kind:
    """One shape: the numbers of its pieces, their areas in mm from the corner of the cells that
    they take unturned, the directions in which it fits on the sheet."""

    numbers: tuple[int, ...]
    areas: tuple[Polygon, ...]
    cells: Grid
    forms: tuple[_Form, ...]

    @cached_property
    def taken(self) -> int:
        return int(self.cells.sum())

    @cached_property
    def felt(self) -> dict[tuple[int, int], Floats]:
        """(direction that lies, another one) -> what the other one feels of it."""
        return {}

    def feel(self, lies: int, other: int) -> Floats:
        """What `other` feels of `lies`: rows from -(its own depth), columns alike."""
        if (lies, other) not in self.felt:
            cells, feeler = self.forms[lies].cells, self.forms[other].feeler
            self.felt[lies, other] = _correlated(cells, feeler)
        return self.felt[lies, other]


#: Kind, direction, row, column.
Place = tuple[int, int, int, int]


def nest(
    areas: Sequence[Polygon], room: tuple[float, float], gap: float, work: int = WORK
) -> Nested:
    """Pieces laid into each other on as few sheets as this way needs.

    `room` is width and height that may be used, `gap` what stays between pieces (mm).
    """
    shape = (int((room[1] + gap) // CELL), int((room[0] + gap) // CELL))
    kinds, left = _kinds(areas, shape, gap)
    counts = [len(kind.numbers) for kind in kinds]
    sheets = []
    while any(counts) and work > 0:
        places, spent = _fill(kinds, counts, shape, work)
        work -= spent
        used = np.bincount([place[0] for place in places], minlength=len(kinds)).tolist()
        for _ in range(min(n // u for n, u in zip(counts, used, strict=True) if u)):
            sheets.append(tuple(_laid(kinds, counts, place, gap / 2.0) for place in places))
    for kind, count in zip(kinds, counts, strict=True):
        left += kind.numbers[:count]
    return Nested(tuple(sheets), tuple(left))


def _laid(
    kinds: Sequence[_Kind], counts: list[int], place: Place, half: float
) -> tuple[int, Polygon]:
    """The next piece of a kind at its place."""
    k, direction, row, column = place
    counts[k] -= 1
    at = np.array([column, row]) * CELL - half
    area, height = kinds[k].areas[counts[k]], kinds[k].cells.shape
    for turn in range(kinds[k].forms[direction].turns):
        area = _quarter(area, height[turn % 2] * CELL)
    return kinds[k].numbers[counts[k]], shapely.transform(area, lambda points: points + at)


def _quarter(area: Polygon, height: float) -> Polygon:
    """An area a quarter round together with its cells, which reach down to `height`."""
    return shapely.transform(area, lambda p: np.stack([height - p[:, 1], p[:, 0]], axis=1))


def _kinds(areas: Sequence[Polygon], shape: Shape, gap: float) -> tuple[list[_Kind], list[int]]:
    """Pieces by their shape, the largest first; numbers of those that do not fit at all."""
    levels = np.array([_levelled(area) for area in areas], dtype=object)
    members: dict[bytes, list[tuple[int, Polygon]]] = {}
    for i, key in enumerate(shape_keys(levels)):
        members.setdefault(key, []).append((i, levels[i]))
    kinds: list[_Kind] = []
    left: list[int] = []
    for alike in sorted(members.values(), key=lambda alike: (-alike[0][1].area, alike[0][0])):
        numbers = tuple(i for i, _ in alike)
        grown = alike[0][1].buffer(gap / 2.0, join_style="mitre")
        corner = np.array(grown.bounds[:2])
        cells = _cells(shapely.transform(grown, lambda p, at=corner: p - at))
        moved = tuple(shapely.transform(a, lambda p, at=corner: p - at) for _, a in alike)
        forms = _forms(cells, shape)
        if forms:
            kinds.append(_Kind(numbers, moved, cells, forms))
        else:
            left += numbers
    return kinds, left


def _levelled(area: Polygon) -> Polygon:
    """The area with its longest edge level and its corner at 0, 0."""
    ring = shapely.get_coordinates(area.exterior)
    edges = np.diff(ring, axis=0)
    lengths = np.hypot(*edges.T)
    x, y = edges[int(np.argmax(lengths > lengths.max() - SAME))]
    turn = np.array([[x, -y], [y, x]]) / float(np.hypot(x, y))
    level = shapely.transform(area, lambda points: points @ turn)
    low = np.array(level.bounds[:2])
    return shapely.transform(level, lambda points: points - low)


def _forms(cells: Grid, shape: Shape) -> tuple[_Form, ...]:
    """The directions, all different, in which a shape fits on the grid."""
    found: list[_Form] = []
    for turns in range(4):
        turned = np.rot90(cells, -turns)
        new = not any(np.array_equal(turned, other.cells) for other in found)
        if new and turned.shape[0] <= shape[0] and turned.shape[1] <= shape[1]:
            found.append(_Form(turns, turned))
    return tuple(found)


def _cells(area: Polygon) -> Grid:
    """Every cell that an area from 0, 0 touches: row by row, what of it lies there."""
    wide, deep = np.ceil(np.array(area.bounds[2:]) / CELL - EDGE).astype(int).tolist()
    tops = np.arange(deep) * CELL
    rows = shapely.box(-1.0, tops + EDGE, area.bounds[2] + 1.0, tops + CELL - EDGE)
    parts, row = shapely.get_parts(shapely.intersection(area, rows), return_index=True)
    box = shapely.bounds(parts)
    first = np.floor((box[:, 0] + EDGE) / CELL).astype(int).clip(0, wide)
    end = np.ceil((box[:, 2] - EDGE) / CELL).astype(int).clip(0, wide)
    cells = np.zeros((deep, wide), dtype=bool)
    for r, a, b in zip(row.tolist(), first.tolist(), end.tolist(), strict=True):
        cells[r, a:b] = True
    return cells


def _correlated(cells: Grid, feeler: Floats) -> Floats:
    """Sums of what a feeler meets, from where only its last corner does to where its first does."""
    deep, wide = (a + b - 1 for a, b in zip(cells.shape, feeler.shape, strict=True))
    size = (_smooth(deep), _smooth(wide))
    met = np.fft.irfft2(np.fft.rfft2(cells, size) * np.fft.rfft2(feeler[::-1, ::-1], size), size)
    return np.asarray(np.rint(met[:deep, :wide]))


def _fill(
    kinds: Sequence[_Kind], counts: Sequence[int], shape: Shape, work: int
) -> tuple[list[Place], int]:
    """One sheet as full as it gets, and how many cells were looked at for it.

    After so many shapes that found no place as many, hardly smaller, are passed over.
    """
    sheet = np.zeros(shape, dtype=bool)
    places: list[Place] = []
    spent = failed = skip = 0
    taken: Spectrum | None = None
    keep = len(kinds) <= KEPT
    for k, (kind, count) in enumerate(zip(kinds, counts, strict=True)):
        if spent > work:
            break
        if not count or kind.taken > sheet.size - np.count_nonzero(sheet):
            continue
        if skip:
            skip -= 1
            continue
        spent += sheet.size * len(kind.forms)
        taken = _taken(sheet) if taken is None else taken
        found = _lay(sheet, kind, count, _maps(sheet, taken, kind, keep))
        taken = None if found else taken
        places += [(k, *place) for place in found]
        failed = 0 if found else failed + 1
        skip = failed
    return places, spent


def _lay(
    sheet: Grid, kind: _Kind, count: int, maps: Sequence[Floats]
) -> list[tuple[int, int, int]]:
    """Lay up to `count` pieces where they lie closest: (direction, row, column)."""
    found: list[tuple[int, int, int]] = []
    while len(found) < count:
        options = []
        for number, (form, felt) in enumerate(zip(kind.forms, maps, strict=True)):
            closest = int(felt.argmax())
            if felt.flat[closest] >= 0.0:
                row, column = divmod(closest, felt.shape[1])
                deep, wide = form.cells.shape
                ends = (row + deep, column + wide)
                options.append((-felt[row, column], *ends, number, row, column))
        if not options:
            break
        _, end, side, number, row, column = min(options)
        sheet[row:end, column:side] |= kind.forms[number].cells
        found.append((number, row, column))
        if len(found) < count:
            for other, felt in enumerate(maps):
                _add(felt, kind.feel(number, other), row, column, kind.forms[other].cells.shape)
    return found


def _taken(sheet: Grid) -> Spectrum:
    """The transform of what is taken of a sheet.

    The upper edge and both sides count as taken; the lower one does not, so that a sheet fills
    from above.
    """
    framed = np.pad(sheet, 1, constant_values=True)
    framed[-1] = False
    return np.fft.rfft2(framed, _size(sheet))


def _size(sheet: Grid) -> Shape:
    """The size of transforms: the sheet with its frame."""
    return (_smooth(sheet.shape[0] + 2), _smooth(sheet.shape[1] + 2))


def _maps(sheet: Grid, taken: Spectrum, kind: _Kind, keep: bool) -> list[Floats]:
    """What each direction of a shape feels at every place of the sheet."""
    size = _size(sheet)
    found = []
    for form in kind.forms:
        deep, wide = form.cells.shape
        met = np.fft.irfft2(taken * form.spectrum(size, keep), size)
        found.append(np.rint(met[: sheet.shape[0] - deep + 1, : sheet.shape[1] - wide + 1]))
    return found


def _add(felt: Floats, more: Floats, row: int, column: int, own: Shape) -> None:
    """What is felt of a piece that lies at a row and column now."""
    top, left = row - own[0], column - own[1]
    part = felt[max(top, 0) : top + more.shape[0], max(left, 0) : left + more.shape[1]]
    first, start = max(-top, 0), max(-left, 0)
    part += more[first : first + part.shape[0], start : start + part.shape[1]]


def _smooth(least: int) -> int:
    """The next number that Fourier transforms like: no factor beyond 5."""
    number = least
    while True:
        rest = number
        for prime in (2, 3, 5):
            while rest % prime == 0:
                rest //= prime
        if rest == 1:
            return number
        number += 1
