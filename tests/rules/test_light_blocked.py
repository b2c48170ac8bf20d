from __future__ import annotations

import pytest
from shapely.geometry import box

from rules.cards import SPOTS, bench, codes, judge, light, near, only, sheet, two_feet, window
from underlit.model.card import Card, Sheet


def foam(reach: float) -> Card:
    """A foam strip from the left that reaches so far over the lens of light 1 (x 18.5 on)."""
    return bench(foam=(sheet("foam", "foam", box(5, 10, 18.5 + reach, 40)),))


@pytest.mark.parametrize(
    ("reach", "over"),
    [(-1.0, False), (0.0, False), (0.02, False), (0.2, True), (1.5, True), (4.0, True)],
)
def test_below_and_above_touching_the_lens(reach: float, over: bool) -> None:
    """Foam short of the lens still stands under the window (16 to 24), in the way of light."""
    finding = only(foam(reach), "light-blocked", "caution")
    assert ("lies over the lens" in finding.message) is over
    assert ("stands in the way" in finding.message) is not over
    assert finding.objects == ("light-1", "foam")
    if over:
        near(finding, 18.5 + min(reach, 3.0) / 2, 24)


@pytest.mark.parametrize(
    ("reach", "count"), [(-4.0, 0), (-2.5, 0), (-2.49, 0), (-2.4, 1), (-2.0, 1)]
)
def test_below_at_and_above_the_window_s_edge(reach: float, count: int) -> None:
    """The window's left edge is at x 16: foam up to there leaves the light alone."""
    found = judge(foam(reach))
    assert codes(found) == [("light-blocked", "caution")] * count
    for finding in found:
        near(finding, 16.25, 24)
        assert "stands in the way" in finding.message


def test_foam_between_a_light_and_a_window_beside_its_middle() -> None:
    """A ray from (20, 24) to a window of 16..60: foam at 24..25 shades what lies behind."""
    wide = window(1, box(16, 20, 60, 28))
    post = sheet("foam", "foam", box(24, 23, 25, 25))
    far = sheet("foam", "foam", box(40, 23, 41, 25))  # beyond half brightness: (5.1 - 1.1) x tan 60

    def blocked(foam: Sheet) -> list[tuple[str, ...]]:
        found = judge(bench(openings=(wide,), lights=(light("a", SPOTS[0]),), foam=(foam,)))
        return [f.objects for f in found if f.rule == "light-blocked"]

    assert blocked(far) == []
    assert blocked(post) == [("a", "foam")]


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
