from __future__ import annotations

import pytest
from shapely.geometry import box

from rules.cards import bench, codes, fold, holder, judge, near, only, strip, with_limits


@pytest.mark.parametrize(("far", "count"), [(5.0, 0), (3.0, 0), (2.995, 0), (2.98, 1), (0.5, 1)])
def test_below_at_and_above_the_limit(far: float, count: int) -> None:
    end = strip("end", ((60, 45), (60, 80 - far)), polarity="negative")
    found = judge(bench(end))
    assert codes(found) == [("edge-too-near", "caution")] * count
    for finding in found:
        near(finding, 60, 80 - far / 2)
        assert finding.objects == ("end",)


def test_the_figures() -> None:
    end = strip("end", ((60, 45), (60, 79)), polarity="negative")
    finding = only(bench(end), "edge-too-near", "caution")
    assert "1 mm from the edge" in finding.message
    assert "3" in finding.remedy


def test_one_finding_per_strip() -> None:
    low = strip("low", ((57.5, 75), (3, 75)), polarity="negative")
    lead = strip("lead", ((60, 45), (60, 77.5)), polarity="negative")
    found = judge(bench(low, lead))
    assert codes(found) == [("edge-too-near", "caution")] * 2
    assert {f.objects[0] for f in found} == {"low", "lead"}


def test_what_hangs_over_is_not_said_twice() -> None:
    over = strip("over", ((60, 45), (60, 82)), polarity="negative")
    assert codes(judge(bench(over))) == [("off-base", "stop")]


def test_another_limit() -> None:
    end = strip("end", ((60, 45), (60, 78)), polarity="negative")
    assert judge(bench(end), with_limits(edge_margin=2.0)) == []


def test_a_hole_has_an_edge() -> None:
    holed = box(0, 0, 100, 80).difference(box(30, 32, 40, 45))
    assert codes(judge(bench(base=holed))) == [("edge-too-near", "caution")]


def test_tape_across_the_fold_of_a_flap_is_not_near_an_edge() -> None:
    """The fold line ends at the base's edge, but no edge runs along it."""
    lead = strip("lead", ((60, 60), (60, 76)), polarity="negative")
    line = fold("f", ((0, 71), (100, 71)), "once", "battery")
    cells, base = (holder(closes="flap"),), box(0, 0, 100, 85)
    found = judge(bench(lead, cells=cells, folds=(line,), base=base, panels=(), openings=()))
    assert [f for f in found if f.rule == "edge-too-near"] == []


def test_the_edge_of_a_flap_counts_as_it_lies_folded() -> None:
    """The flap is 9 mm deep: folded over it lies in the middle of the card, no edge near."""
    lead = strip("lead", ((60, 60), (60, 78)), polarity="negative")
    line = fold("f", ((0, 71), (100, 71)), "once", "battery")
    found = judge(
        bench(lead, cells=(holder(closes="flap"),), folds=(line,), panels=(), openings=())
    )
    assert [f for f in found if f.rule == "edge-too-near"] == []
