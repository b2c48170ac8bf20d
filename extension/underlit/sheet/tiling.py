"""Cutting a large picture into pages: tiles that overlap, with marks that show how they meet."""

from __future__ import annotations

from math import ceil

from ..records import record
from . import look
from .content import Box, Disc, Item, Line, Point, Words

#: Neighbours show this much of each other (mm).
OVERLAP = 10.0

#: Marks to lay upon each other stand so far apart along a seam (mm).
MARKS = 60.0


@record
class Tile:
    """One page's share of a picture: `view` in mm of the picture, row and column from 0."""

    row: int
    column: int
    view: Box


def grid_of(extent: Box, across: float, down: float) -> tuple[int, int]:
    """Columns and rows of pages with `across` x `down` mm of room that a picture takes."""
    return _count(extent[2] - extent[0], across), _count(extent[3] - extent[1], down)


def tiles_of(extent: Box, across: float, down: float) -> tuple[Tile, ...]:
    """Tiles of a picture for pages with `across` x `down` mm of room; one where it fits."""
    columns, rows = grid_of(extent, across, down)
    wide = columns * across - (columns - 1) * OVERLAP
    high = rows * down - (rows - 1) * OVERLAP
    left = (extent[0] + extent[2] - wide) / 2.0
    top = (extent[1] + extent[3] - high) / 2.0
    found = []
    for row in range(rows):
        for column in range(columns):
            x, y = left + column * (across - OVERLAP), top + row * (down - OVERLAP)
            found.append(Tile(row, column, (x, y, x + across, y + down)))
    return tuple(found)


def _count(long: float, room: float) -> int:
    return 1 if long <= room else ceil((long - OVERLAP) / (room - OVERLAP))


def seam_marks(tile: Tile, rows: int, columns: int, origin: Point) -> list[Item]:
    """Where neighbours meet: a dashed line within the overlap, rings to lay on each other.

    `origin` is where the view's top left stands on the page. The same letters stand on both pages.
    """
    left, top = origin
    across, down = tile.view[2] - tile.view[0], tile.view[3] - tile.view[1]
    items: list[Item] = []
    half = OVERLAP / 2.0
    for at, yes, seam in (
        (left + half, tile.column > 0, tile.column - 1),
        (left + across - half, tile.column < columns - 1, tile.column),
    ):
        if yes:
            items += _seam((at, top), (at, top + down), f"{tile.row + 1}{_letter(seam)}")
    for at, yes, seam in (
        (top + half, tile.row > 0, tile.row - 1),
        (top + down - half, tile.row < rows - 1, tile.row),
    ):
        if yes:
            items += _seam((left, at), (left + across, at), f"{_letter(tile.column)}{seam + 1}")
    return items


def _letter(n: int) -> str:
    return chr(ord("A") + n % 26)


def _seam(start: Point, end: Point, name: str) -> list[Item]:
    items: list[Item] = [Line((start, end), 0.2, look.GREY, False, (3.0, 2.0))]
    long = abs(end[0] - start[0]) + abs(end[1] - start[1])
    level = end[1] == start[1]
    count = max(2, round(long / MARKS))
    for k in range(count):
        along = long * (k + 0.5) / count
        x, y = (start[0] + along, start[1]) if level else (start[0], start[1] + along)
        items += [
            Disc((x, y), 1.6, None, look.INK, 0.2),
            Line(((x - 2.4, y), (x + 2.4, y)), 0.15, look.INK),
            Line(((x, y - 2.4), (x, y + 2.4)), 0.15, look.INK),
            Words((x + 2.8, y - 2.0), f"{name}{k + 1}", 2.3, False, "start", look.INK),
        ]
    return items
