"""Pieces turned and nested on as few sheets as they need.

Every piece is turned so that the rectangle around it is smallest, and the rectangles, grown by the
gap for weeding, are packed by rectpack (several of its ways are tried). Lengths inside are whole
micrometres, since the library wants exact numbers. Where some pieces are bent, `nesting` tries to
lay them into each other, and the better of the two counts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry import Polygon

from ..records import record
from .cut import Piece

#: Micrometres per mm.
FINE = 1000

#: Up to so many pieces every way of packing is tried; beyond, the quick ones.
MANY = 250

#: A piece that fills less of its rectangle than this is bent; so many pieces are nested at most.
BENT = 0.75
MOST_NESTED = 150

#: Piece number, x, y (mm, corner of its rectangle), turned by a quarter.
Place = tuple[int, float, float, bool]


@record
class Stock:
    """What tape is cut from, all mm: inner width and height that may be used, margin, gap.

    `roll`: the height is only what is needed of it.
    """

    width: float
    height: float
    margin: float
    gap: float
    roll: bool


@record
class Packed:
    """Pieces as they lie on one sheet; `size` of the sheet; `over`: larger than the stock."""

    pieces: tuple[Piece, ...]
    size: tuple[float, float]
    over: bool


def pack(pieces: Sequence[Piece], stock: Stock) -> list[Packed]:
    """Sheets full of pieces; a piece larger than the stock gets a sheet of its own size."""
    upright = [upright_area(piece.area) for piece in pieces]
    sizes = [_size(area) for area in upright]
    fits = [fits_on(size, stock) for size in sizes]
    inside = [i for i, fit in enumerate(fits) if fit]
    sheets = [
        _sheet(members, pieces, upright, stock)
        for members in _best([sizes[i] for i in inside], inside, stock)
    ]
    nested = _nested([pieces[i] for i in inside], sheets, stock)
    if nested and _need(nested) < _need(sheets):
        sheets = nested
    for i in (i for i, fit in enumerate(fits) if not fit):
        sheets.append(_own_sheet(pieces[i], upright[i], sizes[i], stock))
    return sheets


def _nested(pieces: Sequence[Piece], packed: Sequence[Packed], stock: Stock) -> list[Packed] | None:
    """The pieces laid into each other; None where that gains nothing or takes too long."""
    bent = [p for p in pieces if p.area.area < BENT * p.area.minimum_rotated_rectangle.area]
    if not bent or len(pieces) > MOST_NESTED:
        return None
    from .nesting import nest  # late: only bent pieces need it

    found = nest([p.area for p in pieces], (stock.width, stock.height), stock.gap)
    if found is None:
        return None
    size = packed[0].size
    whole = (size[0], stock.height + 2.0 * stock.margin)
    sheets = []
    for members in found:
        laid = [
            replace(pieces[i], area=shapely.transform(area, lambda p: p + stock.margin))
            for i, area in members
        ]
        deep = max(float(p.area.bounds[3]) for p in laid) + stock.margin
        sheets.append(Packed(tuple(laid), (size[0], deep) if stock.roll else whole, False))
    return sheets


def _need(sheets: Sequence[Packed]) -> tuple[int, float]:
    """How many sheets, and how much of the last one: less is better."""
    if not sheets:
        return (0, 0.0)
    return (len(sheets), max(float(piece.area.bounds[3]) for piece in sheets[-1].pieces))


def upright_area(area: Polygon) -> Polygon:
    """The area turned so that its smallest rectangle stands upright, its corner at 0, 0."""
    left, top, right, bottom = area.bounds
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(area))
    turned = area
    if len(corners) == 5:
        edges = np.diff(corners, axis=0)
        lengths = np.hypot(*edges.T)
        smaller = float(lengths[0] * lengths[1]) < (right - left) * (bottom - top) * 0.999
        if smaller:
            x, y = edges[int(np.argmax(lengths))] / lengths.max()
            turn = np.array([[x, -y], [y, x]])
            turned = shapely.transform(area, lambda points: points @ turn)
    low = np.array(turned.bounds[:2])
    return shapely.transform(turned, lambda points: points - low)


def fits_on(size: tuple[float, float], stock: Stock) -> bool:
    """Whether a rectangle lies on the stock, as it is or turned."""
    low, high = sorted(size)
    small, large = sorted((stock.width, stock.height))
    return low <= small + 1e-6 and high <= large + 1e-6


def _size(area: Polygon) -> tuple[float, float]:
    return (float(area.bounds[2]), float(area.bounds[3]))


def _fine(length: float) -> int:
    return math.ceil(round(length * FINE, 3))


def _best(
    sizes: Sequence[tuple[float, float]], numbers: Sequence[int], stock: Stock
) -> list[list[Place]]:
    """The fewest sheets of all ways tried, then the least on the last, then its least depth."""
    if not sizes:
        return []
    rectangles = [(_fine(w + stock.gap), _fine(h + stock.gap)) for w, h in sizes]
    room = (
        math.floor(round((stock.width + stock.gap) * FINE, 3)),
        math.floor(round((stock.height + stock.gap) * FINE, 3)),
    )
    tried = [_shelves(rectangles, room)]
    for way in _ways(len(sizes)):
        tried.append(_by_library(rectangles, room, way))
        tried.append(_across(_by_library(rectangles, room[::-1], way)))
    best = min(
        tried,
        key=lambda bins: (
            len(bins),
            sum(rectangles[i][0] * rectangles[i][1] for i, _, _, _ in bins[-1]),
            _depth(bins[-1], rectangles),
        ),
    )
    return [
        [(numbers[i], x / FINE, y / FINE, turned) for i, x, y, turned in members]
        for members in best
    ]


Bins = list[list[tuple[int, int, int, bool]]]


def _ways(count: int) -> list[tuple[object, object]]:
    import rectpack  # late: only packing needs it

    quick = [
        (rectpack.GuillotineBssfSas, rectpack.SORT_LSIDE),
        (rectpack.MaxRectsBl, rectpack.SORT_LSIDE),
    ]
    if count > MANY:
        return quick
    return quick + [
        (algorithm, sort)
        for algorithm in (rectpack.MaxRectsBl, rectpack.MaxRectsBssf, rectpack.SkylineBlWm)
        for sort in (rectpack.SORT_AREA, rectpack.SORT_SSIDE, rectpack.SORT_LSIDE)
    ]


def _by_library(
    rectangles: Sequence[tuple[int, int]], room: tuple[int, int], way: tuple[object, object]
) -> Bins:
    """Bins of (number, x, y, turned)."""
    import rectpack  # late: only packing needs it

    algorithm, sort = way
    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline,
        bin_algo=rectpack.PackingBin.BFF,
        pack_algo=algorithm,
        sort_algo=sort,
        rotation=True,
    )
    for number, (width, height) in enumerate(rectangles):
        packer.add_rect(width, height, rid=number)
    packer.add_bin(*room, count=len(rectangles))
    packer.pack()
    bins: dict[int, list[tuple[int, int, int, bool]]] = {}
    for k, x, y, width, _, number in packer.rect_list():
        bins.setdefault(k, []).append((number, x, y, width != rectangles[number][0]))
    return [sorted(bins[k]) for k in sorted(bins)]


def _across(bins: Bins) -> Bins:
    """What was packed on the sheet lying, on the sheet standing: x and y swapped."""
    return [[(i, y, x, not turned) for i, x, y, turned in members] for members in bins]


def _shelves(rectangles: Sequence[tuple[int, int]], room: tuple[int, int]) -> Bins:
    """Rows from top to bottom, lying pieces, the deepest first: what a hand would do."""
    lying = [max(r) <= room[0] for r in rectangles]
    flat = [
        (max(r), min(r)) if lies else (min(r), max(r))
        for r, lies in zip(rectangles, lying, strict=True)
    ]
    bins: Bins = []
    shelves: list[list[int]] = []  # bin, top, height, used width
    tops: list[int] = []
    for i in sorted(range(len(flat)), key=lambda i: (-flat[i][1], -flat[i][0], i)):
        width, height = flat[i]
        shelf = next((s for s in shelves if s[3] + width <= room[0]), None)
        if shelf is None:
            k = next((k for k, top in enumerate(tops) if top + height <= room[1]), None)
            if k is None:
                k = len(tops)
                tops.append(0)
                bins.append([])
            shelf = [k, tops[k], height, 0]
            shelves.append(shelf)
            tops[k] += height
        bins[shelf[0]].append((i, shelf[3], shelf[1], width != rectangles[i][0]))
        shelf[3] += width
    return bins


def _depth(
    members: Sequence[tuple[int, int, int, bool]], rectangles: Sequence[tuple[int, int]]
) -> int:
    """How far down a sheet is used."""
    return max(y + rectangles[i][0 if turned else 1] for i, _, y, turned in members)


def _sheet(
    members: Sequence[Place], pieces: Sequence[Piece], upright: Sequence[Polygon], stock: Stock
) -> Packed:
    """One sheet with its pieces; of a roll only the stretch that is used."""
    found = []
    for i, x, y, turned in members:
        area = quarter_turn(upright[i]) if turned else upright[i]
        at = np.array([x + stock.margin, y + stock.margin])
        found.append(replace(pieces[i], area=shapely.transform(area, lambda p, at=at: p + at)))
    height = stock.height + 2.0 * stock.margin
    if stock.roll:
        height = max(float(piece.area.bounds[3]) for piece in found) + stock.margin
    return Packed(tuple(found), (stock.width + 2.0 * stock.margin, height), False)


def quarter_turn(area: Polygon) -> Polygon:
    """The area a quarter round, its corner at 0, 0 again."""
    height = float(area.bounds[3])
    return shapely.transform(area, lambda p: np.stack([height - p[:, 1], p[:, 0]], axis=1))


def _own_sheet(piece: Piece, area: Polygon, size: tuple[float, float], stock: Stock) -> Packed:
    moved = shapely.transform(area, lambda p: p + stock.margin)
    whole = (size[0] + 2.0 * stock.margin, size[1] + 2.0 * stock.margin)
    return Packed((replace(piece, area=moved),), whole, True)
