from __future__ import annotations

import pytest
from shapely.geometry import box

from rules.cards import (
    bench,
    case,
    codes,
    holder,
    judge,
    near,
    notes,
    only,
    patch,
    rails,
    strip,
    with_limits,
)
from underlit.model.card import Card
from underlit.rules import pad_barely_covered

PLUS, MINUS = rails()


def covered(share: float) -> Card:
    """The minus rail begins under the foot of light 1 (x 18.5 to 21.5) and covers a share."""
    start = 21.5 - 3.0 * share
    return bench(
        strips=[PLUS, strip("minus", ((start, 28), (60, 28), (60, 62.5)), polarity="negative")]
    )


@pytest.mark.parametrize(
    ("share", "count"), [(0.1, 1), (0.45, 1), (0.493, 1), (0.499, 0), (0.5, 0), (0.8, 0)]
)
def test_below_at_and_above_the_limit(share: float, count: int) -> None:
    """0.5 of 9 mm2 is less than 0.4 x 25 mm2, so 4.5 mm2 are needed."""
    found = judge(covered(share))
    assert codes(found) == [("pad-barely-covered", "stop")] * count
    for finding in found:
        near(finding, 20, 28)
        assert finding.objects == ("light-1",)


def test_the_message_carries_what_is_covered_and_what_is_needed() -> None:
    finding = only(covered(1 / 3), "pad-barely-covered", "stop")
    assert "minus foot of light 1" in finding.message
    assert "3 of 9 mm²" in finding.message
    assert "needs 4.5" in finding.message


def test_for_a_narrow_strip_its_own_width_decides() -> None:
    """A 3 mm strip: 0.4 x 9 = 3.6 mm2 are enough."""
    narrow = strip("minus", ((20.2, 28), (60, 28), (60, 62.5)), 3.0, polarity="negative")
    of = bench(strips=[PLUS, narrow])
    assert list(pad_barely_covered.check(case(of, with_limits(joint_cover=0.4)))) == []
    assert len(list(pad_barely_covered.check(case(of, with_limits(joint_cover=0.5))))) == 1


def test_several_strips_of_one_side_count_together() -> None:
    half = strip("half", ((10, 28), (19.5, 28)), polarity="negative")
    round_ = strip("round", ((12, 26), (12, 35), (30, 35), (30, 26)), polarity="negative")
    of = covered(0.2)
    both = bench(half, round_, strips=list(of.strips))
    assert codes(judge(of)) == [("pad-barely-covered", "stop")]
    assert judge(both) == []


def test_a_patch_takes_its_share_away() -> None:
    paper = patch("paper", box(17, 25, 20.5, 31))
    finding = only(bench(paper), "pad-barely-covered", "stop")
    assert "3 of 9" in finding.message


def test_one_finding_per_foot_and_for_batteries_too() -> None:
    off = holder("battery", (75, 64.0))
    found = judge(bench(cells=(off,)))
    assert codes(found) == [("pad-barely-covered", "stop")] * 2
    assert {f.objects for f in found} == {("battery",)}
    assert "battery" in found[0].message
    assert notes(bench(cells=(off,))) == []


def test_a_foot_without_tape_is_never_named() -> None:
    assert codes(
        judge(bench(strips=[PLUS, strip("minus", ((23.5, 28), (60, 28), (60, 62.5)))]))
    ) == [("light-unfed", "stop")]
