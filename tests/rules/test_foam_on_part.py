from __future__ import annotations

import pytest
from shapely.geometry import box

from rules.cards import bench, codes, holder, judge, near, only, sheet, two_feet
from underlit.model.card import Card


def foam(reach: float, closes: str = "press") -> Card:
    """Foam from the right; the battery's body ends at x 89."""
    pad = sheet("foam", "foam", box(89 - reach, 40, 99, 75))
    return bench(foam=(pad,), cells=(holder(closes=closes),))


@pytest.mark.parametrize(("reach", "count"), [(-1.0, 0), (0.0, 0), (0.1, 1), (5.0, 1)])
def test_below_and_above_touching(reach: float, count: int) -> None:
    found = judge(foam(reach))
    assert codes(found) == [("foam-on-part", "caution")] * count
    for finding in found:
        near(finding, 89 - reach / 2, 60)
        assert finding.objects == ("battery", "foam")
        assert "battery" in finding.message


@pytest.mark.parametrize(
    ("closes", "count"), [("press", 1), ("flap", 1), ("slide", 1), ("tab", 0), ("always", 0)]
)
def test_only_where_something_is_pressed_or_moved(closes: str, count: int) -> None:
    found = [f for f in judge(foam(5.0, closes)) if f.rule == "foam-on-part"]
    assert codes(found) == [("foam-on-part", "caution")] * count


def test_a_switch() -> None:
    link = two_feet("switch", "s", (30, 60), closes="slide")
    pad = sheet("foam", "foam", box(20, 55, 26, 65))
    finding = only(bench(foam=(pad,), switches=(link,)), "foam-on-part", "caution")
    near(finding, 25, 60)


def test_one_finding_per_part() -> None:
    pads = (sheet("a", "foam", box(85, 40, 99, 75)), sheet("b", "foam", box(61, 40, 65, 75)))
    assert codes(judge(bench(foam=pads))) == [("foam-on-part", "caution")]
