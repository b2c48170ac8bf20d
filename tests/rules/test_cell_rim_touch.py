from __future__ import annotations

import pytest
from shapely.geometry import Point, box

from rules.cards import (
    SPOTS,
    bare_cell,
    bench,
    codes,
    cut,
    fold,
    holder,
    judge,
    light,
    near,
    only,
    patch,
    rails,
    strip,
)
from underlit.model.card import Card

PLUS, MINUS = rails()
#: Lies on the rail of plus tape, over the upper face of the battery at (75, 60).
OVER = strip("over", ((90, 60), (78, 60)), polarity="positive")
UNDER = strip("under", ((60, 60), (72, 60)), polarity="negative")
#: Paper over the minus strip, from outside the ring up to the cap.
PAPER = box(62.6, 56, 68, 64)


def bare(*laid: object, up: str = "plus", **values: object) -> Card:
    """A bare battery of 20 mm at (75, 60); its ring runs from 8 to 11 mm."""
    cell = bare_cell("battery", (75, 60), up=up)
    return bench(*laid, cells=(cell,), **values)  # type: ignore[arg-type]


def test_bare_minus_tape_under_the_rim_is_a_stop_in_the_ring() -> None:
    finding = only(bare(UNDER, OVER), "cell-rim-touch", "stop")
    near(finding, 65.5, 60)
    assert finding.objects == ("under", "battery")
    assert "rim" in finding.message


def test_a_patch_over_it_is_enough() -> None:
    assert judge(bare(UNDER, patch("paper", PAPER), OVER)) == []


@pytest.mark.parametrize("laid", [(patch("paper", PAPER), UNDER, OVER)])
def test_a_patch_under_the_strip_is_not(laid: tuple[object, ...]) -> None:
    assert codes(judge(bare(*laid))) == [("cell-rim-touch", "stop")]


@pytest.mark.parametrize(("edge", "count"), [(66.9, 1), (67.0, 0), (67.1, 0)])
def test_the_patch_must_reach_the_cap(edge: float, count: int) -> None:
    """The cap begins at 8 mm, that is at x 67 on the middle line of the strip."""
    paper = (
        box(62.6, 56, edge, 64).union(
            Point(75, 60)
            .buffer(20)
            .difference(Point(75, 60).buffer(8.0, 64))
            .intersection(box(62, 56, 70, 64))
        )
        if count == 0
        else box(62.6, 56, edge, 64)
    )
    assert len(judge(bare(UNDER, patch("paper", paper), OVER))) == count


@pytest.mark.parametrize(("beyond", "count"), [(0.9, 1), (1.05, 0)])
def test_tape_beside_the_battery_counts_up_to_1_mm(beyond: float, count: int) -> None:
    """A minus piece that ends so far beside the battery's edge at (75, 50)."""
    inner = strip("inner", ((60, 60), (72, 60)), polarity="negative")
    beside = cut("beside", box(57.5, 42, 78, 50 - beyond), "negative")
    of = bare(inner, patch("paper", PAPER), OVER, beside)
    found = [f for f in judge(of) if "beside" in f.objects]
    assert codes(found) == [("cell-rim-touch", "stop")] * count


def test_with_minus_up_the_paper_lies_under_the_strip() -> None:
    """Minus tape runs over the battery: paper laid before it keeps it off the rim."""
    over = strip("over", ((60, 60), (72, 60)), polarity="negative")
    under = strip("under", ((90, 60), (78, 60)), polarity="positive")
    paper = patch("paper", PAPER)
    assert judge(bare(under, paper, over, up="minus")) == []
    assert codes(judge(bare(under, over, paper, up="minus"))) == [("cell-rim-touch", "stop")]
    assert codes(judge(bare(under, over, up="minus"))) == [("cell-rim-touch", "stop")]


def test_plus_tape_may_touch_the_rim() -> None:
    more = strip("more", ((90, 55), (80, 55)), polarity="positive")
    assert judge(bare(UNDER, patch("paper", PAPER), OVER, more)) == []


def test_one_finding_per_strip() -> None:
    second = strip("second", ((60, 64.9), (70, 64.9)), polarity="negative")
    found = judge(bare(UNDER, second, OVER))
    assert codes(found) == [("cell-rim-touch", "stop")] * 2
    assert {f.objects[0] for f in found} == {"under", "second"}


def test_a_holder_has_no_rim() -> None:
    under = strip("under", ((60, 52), (72, 52)), polarity="negative")
    assert judge(bench(under, cells=(holder(),))) == []


def flap(*laid: object) -> Card:
    """Minus lies on the flap below y 66 and lands on the battery at (75, 52), plus under it."""
    cell = bare_cell("battery", (75, 52), plus=(0, 0), minus=(0, 28), closes="flap")
    plus = strip("plus", ((10, 20), (75, 20), (75, 55)), polarity="positive")
    minus = strip("minus", ((10, 28), (40, 28), (40, 80), (78, 80)), polarity="negative")
    return bench(
        *laid,  # type: ignore[arg-type]
        strips=[plus, minus],
        cells=(cell,),
        folds=(fold("fold", ((0, 66), (100, 66)), "once", "battery"),),
        base=box(0, 0, 100, 100),
        panels=(),
        openings=(),
        lights=(light("light", SPOTS[0]),),
    )


def test_minus_tape_on_a_flap_lands_on_the_rim() -> None:
    """Folded about y 66 the strip at y 80 lies on y 52: it crosses the ring at x 64 to 67."""
    finding = only(flap(), "cell-rim-touch", "stop")
    near(finding, 65.5, 80)
    assert judge(flap(patch("paper", box(60, 75, 68.5, 85)))) == []
