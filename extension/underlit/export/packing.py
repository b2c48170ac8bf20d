"""Pieces turned and nested on as few sheets as they need.

Every piece is turned so that the rectangle around it is smallest, and the rectangles, grown by the
gap for weeding, are packed (`rectangles`). Where some pieces are bent, `nesting` tries to lay them
into each other, and the better of the two counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry import Polygon

from ..records import record
from .cut import Piece
from .rectangles import FINE, fine, fine_room, packed

#: A piece that fills less of its rectangle than this is bent.
BENT = 0.75


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
    sheets: list[Packed] = []
    if any(_is_bent(upright[i]) for i in inside):
        sheets = _nested(inside, pieces, upright, stock)
    if not sheets or len(sheets) >= _least([sizes[i] for i in inside], stock):
        by_rectangles = _by_rectangles(inside, pieces, upright, stock)
        if not sheets or _need(by_rectangles) <= _need(sheets):
            sheets = by_rectangles
    for i in (i for i, fit in enumerate(fits) if not fit):
        sheets.append(_own_sheet(pieces[i], upright[i], sizes[i], stock))
    return sheets


def _least(sizes: Sequence[tuple[float, float]], stock: Stock) -> float:
    """Sheets that rectangles need at least, by their area."""
    gap = stock.gap
    area = sum((width + gap) * (height + gap) for width, height in sizes)
    return area / ((stock.width + gap) * (stock.height + gap))


def _is_bent(upright: Polygon) -> bool:
    width, height = _size(upright)
    return float(upright.area) < BENT * width * height


def _nested(
    inside: Sequence[int], pieces: Sequence[Piece], upright: Sequence[Polygon], stock: Stock
) -> list[Packed]:
    """The pieces laid into each other, and by their rectangles those that are left."""
    from .nesting import nest  # late: only bent pieces need it

    nested = nest([upright[i] for i in inside], (stock.width, stock.height), stock.gap)
    sheets = [
        _on_sheet([replace(pieces[inside[k]], area=area) for k, area in members], stock)
        for members in nested.sheets
    ]
    return sheets + _by_rectangles([inside[k] for k in nested.left], pieces, upright, stock)


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


def _by_rectangles(
    inside: Sequence[int], pieces: Sequence[Piece], upright: Sequence[Polygon], stock: Stock
) -> list[Packed]:
    """Some of the pieces, packed by the rectangles around them."""
    if not inside:
        return []
    grown = [[length + stock.gap for length in _size(upright[i])] for i in inside]
    room = (fine_room(stock.width + stock.gap), fine_room(stock.height + stock.gap))
    sheets = []
    for members in packed([(fine(w), fine(h)) for w, h in grown], room, stock.roll):
        laid = []
        for k, x, y, turned in members:
            area = quarter_turn(upright[inside[k]]) if turned else upright[inside[k]]
            at = np.array([x, y]) / FINE
            laid.append(replace(pieces[inside[k]], area=_moved(area, at)))
        sheets.append(_on_sheet(laid, stock))
    return sheets


def _moved(area: Polygon, by: np.ndarray | float) -> Polygon:
    return shapely.transform(area, lambda points: points + by)


def _on_sheet(laid: Sequence[Piece], stock: Stock) -> Packed:
    """Pieces from the corner of the room; of a roll only the stretch that is used."""
    found = tuple(replace(piece, area=_moved(piece.area, stock.margin)) for piece in laid)
    height = stock.height + 2.0 * stock.margin
    if stock.roll:
        height = max(float(piece.area.bounds[3]) for piece in found) + stock.margin
    return Packed(found, (stock.width + 2.0 * stock.margin, height), False)


def quarter_turn(area: Polygon) -> Polygon:
    """The area a quarter round, its corner at 0, 0 again."""
    height = float(area.bounds[3])
    return shapely.transform(area, lambda p: np.stack([height - p[:, 1], p[:, 0]], axis=1))


def _own_sheet(piece: Piece, area: Polygon, size: tuple[float, float], stock: Stock) -> Packed:
    moved = _moved(area, stock.margin)
    whole = (size[0] + 2.0 * stock.margin, size[1] + 2.0 * stock.margin)
    return Packed((replace(piece, area=moved),), whole, True)
