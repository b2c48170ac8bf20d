"""What one card and a batch take; facts of the trade as check values."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kit.run import ROOT
from underlit.errors import UnknownChoice, UnreadablePrices
from underlit.sheet.order import making_order
from underlit.sheet.paper import read_paper
from underlit.sheet.prices import read_prices
from underlit.sheet.scene import scene_of
from underlit.sheet.supplies import cut_length, fold_extra, supplies_of
from underlit.workflows.build_sheet import read_choices

from .made import case, pdf_of, sample, sheet, texts_of

A4 = read_paper("a4")


def test_a_fold_takes_one_width_as_paper_does() -> None:
    """The middle line of a tape folded back at the corner's far edge and over its diagonal."""
    width, before, after = 5.0, 40.0, 30.0  # to and from the corner's middle
    walked = np.array([
        (0.0, 0.0), (before + width / 2, 0.0),  # to the far edge
        (before, 0.0),  # back to the diagonal
        (before, after),  # the new way
    ])  # fmt: skip
    steps = np.hypot(*np.diff(walked, axis=0).T).sum()
    assert steps - (before + after) == pytest.approx(width)
    tape = next(t for t in scene_of(case(sample("lantern"))).tapes if t.label == "P1")
    assert (tape.length, tape.folds, tape.width) == pytest.approx((112.5, 2, 5.0))
    assert fold_extra(tape) == pytest.approx(10.0)
    assert cut_length(tape) == 123


@pytest.mark.parametrize(("copies", "rolls"), [(1, 1), (45, 1), (46, 2), (90, 2), (91, 3)])
def test_rolls_of_ten_metres(copies: int, rolls: int) -> None:
    """The lantern takes 123 + 95 mm: 45 cards from a roll, by hand."""
    use = supplies_of(scene_of(case(sample("lantern"))), A4, copies).tape[0]
    assert (use.per_card, use.cards_per_roll, use.rolls) == (218, 10_000 // 218, rolls)


def test_shapes_that_no_roll_gives_are_listed_apart() -> None:
    found = supplies_of(scene_of(case(sample("night-garden"))), A4, 2)
    assert [t.label for t in found.shapes] == ["M1"]
    assert [t.label for use in found.tape for t in use.tapes] == ["P1", "M2"]
    crossing = found.tape[0].tapes[1]
    assert crossing.length == pytest.approx(40.0)
    assert crossing.overlap == pytest.approx(5.0, abs=0.2)  # runs on by its width


@pytest.mark.parametrize(("drawn", "back", "listed"), [
    (True, False, True), (True, True, True), (False, False, True), (False, True, False),
])  # fmt: skip
def test_what_carries_the_plan_is_on_the_list(drawn: bool, back: bool, listed: bool) -> None:
    """The plan needs a back sheet, drawn or not, except where the panel carries the circuit."""
    scene = replace(scene_of(case(sample("lantern"))), base_drawn=drawn, back=back)
    assert any(s.item == "base" for s in supplies_of(scene, A4, 1).lines) is listed


def test_sheets_are_counted_by_what_fits() -> None:
    lines = {s.item: s for s in supplies_of(scene_of(case(sample("lantern"))), A4, 9).lines}
    assert (lines["front"].total, lines["base"].total) == (3, 3)  # four of 105 x 148 from an A4
    letter = supplies_of(scene_of(case(sample("lantern"))), read_paper("letter"), 9).lines
    assert {s.item: s for s in letter}["front"].total == 5  # two from a Letter


def test_nothing_is_laid_before_what_it_lies_on() -> None:
    for name in ("night-garden", "lighthouse", "lantern"):
        scene = scene_of(case(sample(name)))
        laid = making_order(scene)
        assert len(laid) == len(scene.tapes) + len(scene.papers)
        for i, upper in enumerate(laid):
            for lower in laid[:i]:
                if upper.geometry.intersects(lower.geometry):
                    assert lower.order < upper.order, (name, lower.label, upper.label)
    order = [thing.label for thing in making_order(scene_of(case(sample("lighthouse"))))]
    assert order == ["P1", "M1", "paper"]  # drawn minus first; nothing stands in the way


def test_the_list_comes_back_with_its_prices() -> None:
    blank = sheet(sample("lantern"), copies="10").files["card-supplies.csv"]
    assert read_prices(blank, "p.csv") == {}
    filled = blank.decode("utf-8-sig").replace("piece,1,10,,", "piece,1,10,0.25,", 1)
    made = sheet(sample("lantern"), copies="10", prices=filled.encode())
    costs = made.files["card-costs.csv"].decode("utf-8-sig")
    assert ",piece,1,10,0.25,2.50" in costs
    assert made.report["supplies"]["cost"] == 2.5


def test_a_list_of_another_country() -> None:
    text = "Price;what;ITEM\n€ 0,35;x;Light  warm-white\n4;y;tape 5\n;;pull tab\n"
    assert read_prices(text.encode("cp1252"), "p.csv") == {"light warm-white": 0.35, "tape 5": 4.0}
    assert read_prices(text.encode("utf-16"), "p.csv")["tape 5"] == 4.0


@pytest.mark.parametrize(
    ("data", "where"),
    [
        (b"item,price\ntape 5,cheap\n", "line 2, column 2"),
        (b"item,what,price\na,b,1\nc,d,-3\n", "line 3, column 3"),
        (b"item,price\na,nan\n", "line 2, column 2"),
        (b"item,price\na,1\na,2\n", "line 3, column 2"),
        (b"item,price\nab\x00c,1\n", "line 2, column 3"),
        (b'item,price\n"a,1\n', "line 2"),
        (b"thing,price\na,1\n", "no column headed item"),
        (b"", "empty"),
    ],
)
def test_a_bad_list_is_refused_with_its_place(data: bytes, where: str) -> None:
    with pytest.raises(UnreadablePrices) as fault:
        read_prices(data, "p.csv")
    assert where in str(fault.value)


@pytest.mark.parametrize(
    "words",
    [("a4", "0", "all"), ("a4", "-1", "all"), ("a4", "two", "all"), ("a4", "1.5", "all"),
     ("a4", "501", "all"), ("a7", "1", "all"), ("100x150", "1", "all"), ("a4", "1", "poster"),
     ("9999x9999", "1", "all")],
)  # fmt: skip
def test_bad_wishes_are_refused(words: tuple[str, str, str]) -> None:
    with pytest.raises(UnknownChoice) as fault:
        read_choices(*words)
    assert len(str(fault.value).split()) > 5


def test_strips_have_the_names_of_the_cutter_files() -> None:
    from underlit.export.pieces import strips_as_pieces
    from underlit.sheet.scene import labels_of

    one = case(sample("night-garden"))
    pieces = strips_as_pieces(one, [strip.geometry for strip in one.card.strips])
    assert [piece.label for piece in pieces] == list(labels_of(one)) == ["P1", "M1", "M2"]


def test_two_batteries_are_counted_wherever_they_are_named() -> None:
    text = (ROOT / "sample_svgs" / "faulty" / "cells-in-parallel.svg").read_text(encoding="utf-8")
    words = " ".join("\n".join(texts_of(pdf_of(sheet(text, pages="none", copies="3")))).split())
    assert "Contains 2 coin batteries (CR2032)." in words
    assert "slide every battery out" in words
    assert "2 battery holders" in words
    assert "2 batteries CR2032, each in a small closed bag" in words
    assert "Tape down 6 battery holders." in words
    assert "6 batteries last" in words


def test_a_price_list_of_other_things_is_told() -> None:
    head = b"item,price\n"
    wrong = sheet(sample("lantern"), pages="none", prices=head + b"lihgt warm-white,1.0\n")
    assert "nothing on this card is called lihgt warm-white" in wrong.message
    for right in (b"light warm-white,1.0\n", b""):
        made = sheet(sample("lantern"), pages="none", prices=head + right)
        assert "No price was taken" not in made.message
