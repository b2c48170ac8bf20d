"""Bent pieces are laid into each other: any number of them, in bounded work, never overlapping."""

from __future__ import annotations

import random
from collections.abc import Sequence

import pytest
import shapely
from shapely import affinity
from shapely.geometry import Polygon, box

from underlit.export.cut import Piece
from underlit.export.nesting import CELL, nest
from underlit.export.packing import Stock, pack

from .test_packing import SHEET, by_shelves, size_of, valid

ROOM = (SHEET.width, SHEET.height)


def angle(along: float, down: float, width: float = 5.0) -> Polygon:
    """An L, as a strip with one folded corner."""
    return box(0, 0, along, width).union(box(0, 0, width, down))


def bow(along: float, down: float, width: float = 5.0) -> Polygon:
    """A U, as a strip with two folded corners."""
    return angle(along, down, width).union(box(along - width, 0, along, down))


def step(along: float, down: float, width: float = 5.0) -> Polygon:
    """A Z."""
    half = along / 2.0
    upper = box(0, 0, half, width).union(box(half - width, 0, half, down))
    return upper.union(box(half - width, down - width, along, down))


def turned(areas: Sequence[Polygon], seed: int = 1) -> list[Piece]:
    """Pieces anywhere on a page, turned in every direction."""
    rng = random.Random(seed)
    return [
        Piece(f"P{n}", affinity.rotate(area, rng.uniform(0.0, 360.0), origin=(50.0, 70.0)))
        for n, area in enumerate(areas)
    ]


def sheets_of(pieces: Sequence[Piece], stock: Stock = SHEET) -> int:
    """How many sheets, once all is found to lie well."""
    sheets = pack(pieces, stock)
    valid(sheets, pieces, stock)
    return len(sheets)


def rows(pieces: Sequence[Piece]) -> int:
    return by_shelves([size_of(piece.area) for piece in pieces], SHEET)


@pytest.mark.parametrize(
    ("area", "count", "most", "by_rows"),
    [
        (angle(120, 90), 20, 2, 7),
        (angle(60, 40), 200, 4, 12),
        (angle(60, 40), 1000, 18, 56),
        (bow(60, 60), 60, 4, 5),
        (step(80, 50), 100, 4, 8),
    ],
)
def test_equal_pieces_need_far_fewer_sheets_than_rows(
    area: Polygon, count: int, most: int, by_rows: int
) -> None:
    pieces = turned([area] * count)
    assert rows(pieces) == by_rows
    assert sheets_of(pieces) <= most


def test_thirty_cards_of_one_kind() -> None:
    """Seven pieces a card, four of them bent: less than half the sheets that rows need."""
    card = [angle(80, 50), angle(60, 100), bow(70, 40), bow(90, 60)]
    card += [box(0, 0, length, 5) for length in (60, 40, 12)]
    pieces = turned(card * 30)
    assert rows(pieces) == 13
    assert sheets_of(pieces) <= 5


@pytest.mark.parametrize("seed", range(6))
def test_any_mixture(seed: int) -> None:
    """All pieces different."""
    rng = random.Random(seed)
    shapes = (angle, bow, step, lambda along, down: box(0, 0, along, 5))
    areas = [rng.choice(shapes)(rng.uniform(20, 120), rng.uniform(15, 90)) for _ in range(50)]
    pieces = turned(areas, seed)
    assert sheets_of(pieces) < rows(pieces)


def test_what_there_is_no_time_for_is_packed_all_the_same() -> None:
    """Whatever the limit of work, every piece is laid once or given back."""
    areas = [angle(40 + n, 30 + n / 2) for n in range(40)]
    cells = int((ROOM[0] + 2) / CELL) * int((ROOM[1] + 2) / CELL)
    before = -1
    for work in (0, 1, 20 * cells, 10_000 * cells):
        nested = nest(areas, ROOM, 2.0, work)
        laid = [number for sheet in nested.sheets for number, _ in sheet]
        assert sorted([*laid, *nested.left]) == list(range(40))
        assert len(laid) > before
        before = len(laid)
    assert before == 40


def test_a_piece_goes_into_the_hole_of_another() -> None:
    frame = shapely.difference(box(0, 0, 180, 280), box(8, 8, 172, 272))
    pieces = [Piece("frame", frame), *turned([angle(60, 40)] * 20)]
    assert rows(pieces) == 2 + 1
    assert sheets_of(pieces) == 1


def test_a_piece_that_just_fits_the_sheet_is_laid_all_the_same() -> None:
    """On the grid it has no room; its rectangle has."""
    tight = angle(187.99, 287.99)
    assert nest([tight], (187.995, 287.995), 2.0).left == (0,)
    stock = Stock(187.995, 287.995, 6.0, 2.0, False)
    pieces = [Piece("P1", tight), Piece("P2", angle(60, 40)), Piece("P3", angle(60, 40))]
    assert sheets_of(pieces, stock) == 2


def test_a_roll_is_used_from_its_beginning() -> None:
    roll = Stock(88.0, 2988.0, 6.0, 2.0, True)
    pieces = turned([angle(70, 50)] * 30)
    (sheet,) = pack(pieces, roll)
    valid([sheet], pieces, roll)
    assert sheet.size[1] < 30 * 52 / 2
