from __future__ import annotations

import pytest

from rules.cards import bench, codes, judge, near, only, rails, strip, with_limits
from underlit.model.card import Card


def split(overlap: float) -> Card:
    """The minus rail in two pieces that overlap by so much at x 42."""
    left = strip("left", ((10, 28), (42, 28)), polarity="negative")
    right = strip("right", ((42 - overlap, 28), (60, 28), (60, 62.5)), polarity="negative")
    return bench(strips=[rails()[0], left, right])


@pytest.mark.parametrize(
    ("overlap", "count"), [(0.2, 1), (1.9, 1), (1.98, 1), (1.995, 0), (2.0, 0), (2.5, 0)]
)
def test_below_at_and_above_the_limit(overlap: float, count: int) -> None:
    found = judge(split(overlap))
    assert codes(found) == [("joint-too-small", "stop")] * count
    for finding in found:
        near(finding, 42 - overlap / 2, 28)
        assert set(finding.objects) == {"left", "right"}


def test_figures_and_other_limits() -> None:
    finding = only(split(1.0), "joint-too-small", "stop")
    assert "5 of 10 mm²" in finding.message
    assert codes(judge(split(2.5), with_limits(joint_cover=0.6))) == [("joint-too-small", "stop")]


def test_ends_that_only_touch_are_named_too() -> None:
    assert "0 of 10" in only(split(0.0), "joint-too-small", "stop").message


def test_a_good_way_round_makes_it_harmless() -> None:
    over = strip("over", ((30, 28), (30, 35), (50, 35), (50, 28)), polarity="negative")
    of = split(0.5)
    assert judge(bench(over, strips=list(of.strips))) == []


def test_a_dead_end_does_not_matter() -> None:
    spare = strip("spare", ((57.9, 45), (40, 45)), polarity="negative")
    assert judge(bench(spare)) == []
