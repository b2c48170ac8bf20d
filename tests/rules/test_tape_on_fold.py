from __future__ import annotations

import pytest

from rules.cards import bench, codes, fold, judge, near, only, rails, strip, with_tape
from underlit.model.card import Fold

PLUS, MINUS = rails()
#: Crosses the minus lead at (60, 42), well away from joints, feet and parts.
LINE = ((45.0, 40.0), (75.0, 40.0))


def line(*points: tuple[float, float], moves: str = "often") -> Fold:
    return fold("spine", points, moves)


def test_square_in_one_piece_of_fabric_is_fine() -> None:
    assert judge(bench(folds=(line(*LINE),))) == []


def test_foil_breaks() -> None:
    foil = with_tape(use="foil-5")
    finding = only(bench(folds=(line(*LINE),)), "tape-on-fold", "caution", foil)
    near(finding, 60, 40)
    assert finding.objects == ("minus", "spine")
    assert "Foil" in finding.message


def test_a_fold_that_moves_once_is_fine() -> None:
    assert judge(bench(folds=(line(*LINE, moves="once"),)), with_tape(use="foil-5")) == []


def across(slope: float) -> Fold:
    """A line through (60, 42) that rises so steeply; the strip runs straight down."""
    return line((60 - 4, 42 - 4 * slope), (60 + 4, 42 + 4 * slope))


@pytest.mark.parametrize(("slope", "count"), [(0.0, 0), (0.9, 0), (1.0, 0), (1.2, 1), (3.0, 1)])
def test_crossing_angle_below_at_and_above_45_degrees(slope: float, count: int) -> None:
    found = judge(bench(folds=(across(slope),)))
    assert codes(found) == [("tape-on-fold", "caution")] * count
    for finding in found:
        near(finding, 60, 42)
        assert "aslant" in finding.message


def test_along_the_fold() -> None:
    along = line((60.0, 33.0), (60.0, 47.0))
    finding = only(bench(folds=(along,)), "tape-on-fold", "caution")
    near(finding, 60, 40)


@pytest.mark.parametrize(("far", "count"), [(4.0, 1), (4.98, 1), (5.0, 0), (6.0, 0)])
def test_an_overlap_within_5_mm(far: float, count: int) -> None:
    """The lead is laid in two pieces whose overlap begins `far` below the fold."""
    upper = strip("upper", ((10, 28), (60, 28), (60, 38 + far + 5)), polarity="negative")
    lower = strip("lower", ((60, 38 + far), (60, 62.5)), polarity="negative")
    of = bench(strips=[PLUS, upper, lower], folds=(line((50, 38), (70, 38)),))
    found = judge(of)
    assert codes(found) == [("tape-on-fold", "caution")] * count
    if count:
        assert "overlap" in found[0].message


@pytest.mark.parametrize(("far", "count"), [(2.0, 2), (4.98, 2), (5.0, 0)])
def test_a_body_within_5_mm(far: float, count: int) -> None:
    """The body of light 1 begins at x 17.5; both rails run under it."""
    x = 17.5 - far
    found = judge(bench(folds=(line((x, 10), (x, 35)),)))
    assert codes(found) == [("tape-on-fold", "caution")] * count
    assert all("Light 1" in f.message for f in found)


def test_one_finding_per_strip_and_fold() -> None:
    found = judge(bench(folds=(line((45, 40), (95, 40)),)), with_tape(use="foil-5"))
    assert codes(found) == [("tape-on-fold", "caution")] * 2
    assert {f.objects[0] for f in found} == {"plus", "minus"}
