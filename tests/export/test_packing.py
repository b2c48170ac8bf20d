"""Packed sheets: nothing overlaps, all inside the margins, and hardly any sheet is wasted."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Sequence
from functools import cache

import numpy as np
import pytest
import shapely
from lxml import etree
from shapely import affinity
from shapely.geometry import Polygon, box

from kit.encode import svg
from properties.layouts import good_layout
from underlit.export.cut import Piece
from underlit.export.packing import Packed, Stock, pack, upright_area
from underlit.export.pieces import strips_as_pieces
from underlit.workflows.export import Choices

from .exported import case_of, export_text, profile_of, read, sample_text, told

SHEET = Stock(188.0, 288.0, 6.0, 2.0, False)
EPS = 1e-3


def valid(sheets: Sequence[Packed], pieces: Sequence[Piece], stock: Stock) -> None:
    """Every piece once, congruent, inside the margins and a weeding gap from all others."""
    placed = [piece for sheet in sheets for piece in sheet.pieces]
    assert sorted(p.label for p in placed) == sorted(p.label for p in pieces)
    whole = {piece.label: piece.area for piece in pieces}
    for sheet in sheets:
        inner = box(0, 0, *sheet.size).buffer(-stock.margin + EPS, join_style="mitre")
        areas = np.array([piece.area for piece in sheet.pieces], dtype=object)
        assert shapely.covers(inner, areas).all()
        first, second = shapely.STRtree(areas).query(
            areas, predicate="dwithin", distance=stock.gap - EPS
        )
        assert (first == second).all()
        for piece in sheet.pieces:
            same_shape(piece.area, whole[piece.label])


def same_shape(a: Polygon, b: Polygon) -> None:
    assert a.area == pytest.approx(b.area, rel=1e-9)
    assert a.length == pytest.approx(b.length, rel=1e-9)
    signs = [p.exterior.is_ccw for p in (a, b)]
    assert signs[0] == signs[1]  # turned, never turned over


def by_shelves(sizes: Sequence[tuple[float, float]], stock: Stock) -> int:
    """Sheets that first-fit rows of lying rectangles need: a method of the tests' own."""
    sheets: list[float] = []
    rows: list[tuple[int, float, list[float]]] = []
    flat = [sorted(size, reverse=True) for size in sizes]
    for long, low in sorted(flat, key=lambda s: (s[1], s[0]), reverse=True):
        w, h = (long, low) if long <= stock.width else (low, long)
        for _, height, used in rows:
            if h <= height and used[0] + w <= stock.width + 1e-9:
                used[0] += w + stock.gap
                break
        else:
            k = next((k for k, y in enumerate(sheets) if y + h <= stock.height + 1e-9), None)
            if k is None:
                k = len(sheets)
                sheets.append(0.0)
            sheets[k] += h + stock.gap
            rows.append((k, h, [w + stock.gap]))
    return len(sheets)


@cache
def card_pieces(seed: int) -> tuple[Piece, ...]:
    drawing = read(svg(good_layout(seed).card, "plain"))
    case = case_of(drawing, profile_of(drawing))
    return tuple(strips_as_pieces(case, [strip.geometry for strip in case.card.strips]))


def copies(pieces: Sequence[Piece], count: int) -> list[Piece]:
    return [
        Piece(f"{piece.label}/{k}/{n}", piece.area)
        for k in range(count)
        for n, piece in enumerate(pieces)
    ]


def size_of(area: Polygon) -> tuple[float, float]:
    return tuple(upright_area(area).bounds[2:])


@pytest.mark.parametrize("seed", range(20))
def test_cards_are_packed_well(seed: int) -> None:
    pieces = copies(card_pieces(seed), 4)
    sheets = pack(pieces, SHEET)
    valid(sheets, pieces, SHEET)
    inside = [size_of(p.area) for p in pieces if fits(p.area)]
    assert sum(not sheet.over for sheet in sheets) <= by_shelves(inside, SHEET)


def fits(area: Polygon) -> bool:
    low, high = sorted(size_of(area))
    return low <= SHEET.width and high <= SHEET.height


@pytest.mark.parametrize("seed", range(20))
def test_full_sheets_of_straight_strips_reach_the_area_bound(seed: int) -> None:
    """Every sheet but the last takes 0.85 of what its area could take, gaps counted in."""
    straight = [
        piece
        for piece in card_pieces(seed)
        if fits(piece.area) and piece.area.area > 0.99 * math.prod(size_of(piece.area))
    ]
    area = sum(piece.area.area for piece in straight)
    pieces = copies(straight, math.ceil(2.5 * SHEET.width * SHEET.height / (area * 1.4)))
    sheets = pack(pieces, SHEET)
    valid(sheets, pieces, SHEET)
    room = (SHEET.width + SHEET.gap) * (SHEET.height + SHEET.gap)
    assert len(sheets) > 1
    for sheet in sheets[:-1]:
        grown = [p.area.buffer(SHEET.gap / 2, join_style="mitre").area for p in sheet.pieces]
        assert sum(grown) / room >= 0.85


@pytest.mark.parametrize("seed", range(12))
def test_any_pieces_are_packed_validly(seed: int) -> None:
    """Turned, bent and odd pieces, narrow and wide stock."""
    rng = random.Random(seed)
    stock = Stock(rng.uniform(60, 200), rng.uniform(60, 300), rng.uniform(0, 9), 1.5, seed % 2 == 0)
    pieces = []
    for n in range(rng.randint(1, 40)):
        shape = box(0, 0, rng.uniform(3, 55), rng.uniform(3, 8))
        if rng.random() < 0.5:
            shape = shape.union(box(0, 0, 5, rng.uniform(5, 50)))
        shape = affinity.rotate(shape, rng.uniform(0, 360), origin=(0, 0))
        pieces.append(Piece(f"P{n}", affinity.translate(shape, rng.uniform(-99, 99), 7)))
    valid(pack(pieces, stock), pieces, stock)


def test_a_piece_that_no_sheet_takes_gets_one_of_its_own() -> None:
    pieces = [Piece("P1", box(0, 0, 400, 5)), Piece("P2", box(0, 0, 40, 5))]
    sheets = pack(pieces, SHEET)
    valid(sheets, pieces, SHEET)
    assert [sheet.over for sheet in sheets] == [False, True]
    assert sheets[1].size == (412.0, 17.0)


def test_of_a_roll_only_what_is_needed_is_taken() -> None:
    roll = Stock(38.0, 988.0, 6.0, 2.0, True)
    pieces = [Piece(f"P{n}", box(0, 0, 200, 5)) for n in range(10)]
    sheets = pack(pieces, roll)
    valid(sheets, pieces, roll)
    assert [sheet.size for sheet in sheets] == [(50.0, 2 * 200 + 2 + 12.0)]


def test_copies_are_labelled_and_complete() -> None:
    done = export_text(sample_text("lantern"), Choices(("svg",), "packed", copies=3))
    report = told(done)
    labels = sorted(piece["label"] for piece in report["pieces"])
    assert labels == ["M1-1", "M1-2", "M1-3", "P1-1", "P1-2", "P1-3"]
    assert {piece["copy"] for piece in report["pieces"]} == {1, 2, 3}
    assert b'id="P1-3"' in done.files["card-tape.svg"]
    assert report["laying_order"] == []
    assert report["smallest_spacing"] >= 2.0 - EPS


def test_names_are_drawn_on_their_pieces_and_nowhere_else() -> None:
    done = export_text(sample_text("night-garden"), Choices(("svg",), "packed", copies=8))
    sheets = [s["name"] for s in told(done)["sheets"] if s["material"] == "tape"]
    assert len(sheets) > 1
    seen = []
    for number, name in enumerate(sheets, 2):
        pieces = outlines(done.files[f"card-{name}.svg"])
        written: dict[str, list[Polygon]] = {}
        for label, ring in outlines(done.files[f"card-guides-{number}.svg"]):
            written.setdefault(re.sub(r"^name-|(?<=-\d)-\d+$", "", label), []).append(ring)
        assert set(written) == {label for label, _ in pieces}
        for label, ring in pieces:
            area = Polygon(ring).buffer(-0.5)
            for stroke in written[label]:
                assert area.covers(shapely.linestrings(stroke))
        seen += written
    assert sorted(seen) == sorted(p["label"] for p in told(done)["pieces"])


def outlines(data: bytes) -> list[tuple[str, np.ndarray]]:
    """(id, first ring) of every path of an SVG."""
    found = []
    for path in etree.fromstring(data).iter("{http://www.w3.org/2000/svg}path"):
        pairs = re.findall(r"(-?[\d.]+),(-?[\d.]+)", path.get("d").split("Z")[0])
        found.append((path.get("id"), np.array(pairs, dtype=float)))
    return found


def test_the_profile_names_the_sheet() -> None:
    choices = Choices(("svg",), "packed", copies=2)
    small = export_text(sample_text("street"), choices, sheet=[194.0, 60.0], margin=3.0)
    sizes = [s["size"] for s in told(small)["sheets"] if s["material"] == "tape"]
    assert sizes == [[194.0, 60.0], [194.0, 60.0]]
    assert [s["name"] for s in told(small)["sheets"]][:2] == ["tape", "tape-2"]
