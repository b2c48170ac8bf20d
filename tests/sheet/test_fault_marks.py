"""Faults and cautions: marked on the circuit where they are, numbered as in the list."""

from __future__ import annotations

import re

import numpy as np
import pytest

from kit.run import ROOT
from underlit.markup.marks import LOOKS
from underlit.rules import check_all
from underlit.sheet import look
from underlit.sheet.content import Area, Disc, Item, Page, Words

from .made import book, case, pdf_of, sample, sheet, texts_of, titled

Mark = tuple[str, str, tuple[float, float]]


def faulty(name: str) -> str:
    return (ROOT / "sample_svgs" / "faulty" / f"{name}.svg").read_text(encoding="utf-8")


def marks(page: Page) -> list[Mark]:
    """Shape, figure and middle on the page of every mark."""
    found, shape = [], None
    for item in page.items:
        if isinstance(item, Area) and item.fill == look.FAULT:
            points = np.array(item.rings[0])
            shape = ("diamond", tuple((points.min(axis=0) + points.max(axis=0)) / 2.0))
        elif isinstance(item, Disc) and item.fill == look.CAUTION:
            shape = ("disc", item.at)
        elif isinstance(item, Words) and shape is not None:
            found.append((shape[0], item.text, shape[1]))
            shape = None
    return found


def on_card(page: Page, base: tuple[float, ...], at: tuple[float, float]) -> tuple[float, float]:
    """A place of the page in mm of the working view, by the back sheet drawn there."""
    sheets = [i for i in page.items if isinstance(i, Area) and i.fill == look.BASE]
    points = np.array(sheets[0].rings[0])
    (left, top), (right, _) = points.min(axis=0), points.max(axis=0)
    scale = (base[2] - base[0]) / (right - left)
    return (base[0] + (at[0] - left) * scale, base[1] + (at[1] - top) * scale)


def test_colours_are_those_of_the_drawing() -> None:
    stop, caution = LOOKS["stop"], LOOKS["caution"]
    assert (stop.fill, stop.figure) == (look.FAULT, look.ON_FAULT)
    assert (caution.fill, caution.figure) == (look.CAUTION, look.ON_CAUTION)


@pytest.mark.parametrize(
    ("name", "shape"),
    [
        ("polarities-touch", "diamond"),
        ("light-unfed", "diamond"),
        ("light-reversed", "diamond"),
        ("gap-too-small", "disc"),
        ("edge-too-near", "disc"),
    ],
)
@pytest.mark.parametrize("side", ["front", "back"])
def test_a_fault_is_marked_where_it_is(name: str, shape: str, side: str) -> None:
    text = faulty(name).replace("<svg", f'<svg underlit:side="{side}"', 1)
    of = case(text)
    (fault,) = [f for f in check_all(of) if f.severity != "note" and f.at]
    (page,) = titled(book(text), "The whole circuit")
    (mark,) = marks(page)
    left, _, right, _ = of.card.base.bounds
    x = left + right - fault.at[0] if side == "back" else fault.at[0]
    assert mark[:2] == (shape, "1")
    assert on_card(page, of.card.base.bounds, mark[2]) == pytest.approx((x, fault.at[1]), abs=0.2)
    words = texts_of(pdf_of(sheet(text, pages="none")))
    assert any("Diamonds: mend these first" in t for t in words)
    listed = " ".join(words[-1].split())
    assert re.search(rf"\b1 {re.escape(fault.message)}", listed)


def test_marks_of_many_faults_keep_apart() -> None:
    """The street with its battery turned round: no mark on another, all of them on the page."""
    text = sample("street").replace("translate(34,56) rotate(-90)", "translate(34,56) rotate(90)")
    stops = [f for f in check_all(case(text)) if f.severity == "stop"]
    assert len(stops) >= 12
    (page,) = titled(book(text), "The whole circuit")
    found = [mark for mark in marks(page) if mark[0] == "diamond"]
    assert sorted(int(number) for _, number, _ in found) == list(range(1, len(stops) + 1))
    places = np.array([at for _, _, at in found])
    gaps = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1))
    assert gaps[~np.eye(len(places), dtype=bool)].min() > 5.0
    assert places.min() > 12.0
    assert (places < (page.width - 12.0, page.height - 12.0)).all()


def test_a_good_card_has_no_marks() -> None:
    (page,) = titled(book(sample("firefly-jar")), "The whole circuit")
    assert marks(page) == []
    assert not any(
        "Diamonds" in t for t in texts_of(pdf_of(sheet(sample("firefly-jar"), pages="none")))
    )


def test_not_ready_is_seen_on_every_page_and_hides_nothing() -> None:
    """The letters lie over all else, and so thinly that even white on red stays readable."""

    def over(item: Item) -> bool:
        return isinstance(item, Area) and item.opacity < 0.25 and item.fill == look.ALARM

    bad, good = book(faulty("polarities-touch")), book(sample("firefly-jar"))
    for page in bad.pages:
        assert over(page.items[-1])
        points = np.concatenate([np.array(ring) for ring in page.items[-1].rings])
        assert (np.ptp(points, axis=0) > 0.4 * np.array([page.width, page.height])).all()
    assert not any(over(item) for page in good.pages for item in page.items)
