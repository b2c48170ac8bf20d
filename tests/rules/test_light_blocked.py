from __future__ import annotations

import pytest
from shapely.geometry import box

from rules.cards import SPOTS, bench, codes, judge, near, only, sheet, two_feet
from underlit.model.card import Card


def foam(reach: float) -> Card:
    """A foam strip from the left that reaches so far over the lens of light 1 (x 18.5 on)."""
    return bench(foam=(sheet("foam", "foam", box(5, 10, 18.5 + reach, 40)),))


@pytest.mark.parametrize(
    ("reach", "count"), [(-1.0, 0), (0.0, 0), (0.02, 0), (0.2, 1), (1.5, 1), (4.0, 1)]
)
def test_below_and_above_touching_the_lens(reach: float, count: int) -> None:
    found = judge(foam(reach))
    assert codes(found) == [("light-blocked", "caution")] * count
    for finding in found:
        near(finding, 18.5 + min(reach, 3.0) / 2, 24)
        assert finding.objects == ("light-1", "foam")


def test_the_share_is_said() -> None:
    finding = only(foam(1.5), "light-blocked", "caution")
    assert "50 %" in finding.message
    assert "light 1" in finding.message


def test_a_cover_without_a_hole_and_one_with() -> None:
    whole = sheet("cover", "cover", box(5, 10, 60, 40))
    holes = box(5, 10, 60, 40)
    for x, y in SPOTS:
        holes = holes.difference(box(x - 3, y - 3, x + 3, y + 3))
    assert codes(judge(bench(covers=(whole,)))) == [("light-blocked", "caution")] * 3
    assert judge(bench(covers=(sheet("cover", "cover", holes),))) == []


def test_another_body_over_the_lens() -> None:
    link = two_feet("switch", "s", (25.5, 24.0), closes="slide")
    found = [f for f in judge(bench(switches=(link,))) if f.rule == "light-blocked"]
    assert [f.objects for f in found] == [("light-1", "s")]


def test_one_finding_per_light_however_much_lies_over_it() -> None:
    piece = box(15, 20, 25, 28)
    both = (sheet("one", "foam", piece), sheet("two", "foam", piece))
    assert codes(judge(bench(foam=both))) == [("light-blocked", "caution")]
