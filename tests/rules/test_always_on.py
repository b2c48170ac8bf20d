from __future__ import annotations

import pytest
from shapely.geometry import box

from rules.cards import bench, case, holder, judge, near, only, part, rails, strip, two_feet
from underlit.rules import always_on

TAB = part("pull-tab", "tab", {"body": box(70, 55, 98, 65)})
PLUS, MINUS = rails()
SWITCHED = [
    PLUS,
    strip("rail", ((10, 28), (60, 28), (60, 37)), polarity="negative"),
    strip("lead", ((60, 43), (60, 62.5)), polarity="negative"),
]
SWITCH = two_feet("switch", "switch", (60, 40), 90.0, closes="slide")


def test_a_battery_meant_for_a_tab_without_one() -> None:
    finding = only(bench(cells=(holder(closes="tab"),)), "always-on", "caution")
    near(finding, 75, 60)
    assert finding.objects == ("battery",)
    assert "pull tab" in finding.remedy
    assert judge(bench(cells=(holder(closes="tab"),), pull_tabs=(TAB,))) == []


def test_a_battery_meant_for_a_flap_without_one() -> None:
    finding = only(bench(cells=(holder(closes="flap"),)), "always-on", "caution")
    assert "fold" in finding.remedy


@pytest.mark.parametrize("closes", ["press", "slide", "open"])
def test_what_breaks_by_itself_is_fine(closes: str) -> None:
    assert judge(bench(cells=(holder(closes=closes),))) == []


def test_always_is_meant_where_there_is_no_switch() -> None:
    assert judge(bench(cells=(holder(closes="always"),))) == []


def test_a_switch_that_is_passed_by() -> None:
    cells = (holder(closes="always"),)
    assert judge(bench(strips=SWITCHED, switches=(SWITCH,), cells=cells)) == []
    round_it = strip("round", ((58, 35), (50, 35), (50, 46), (58, 46)), polarity="negative")
    of = bench(round_it, strips=SWITCHED, switches=(SWITCH,), cells=cells)
    finding = only(of, "always-on", "caution")
    assert "switch" in finding.remedy


def test_a_battery_that_feeds_nothing_does_not_burn() -> None:
    of = bench(cells=(holder(closes="tab"),), lights=(), openings=())
    assert list(always_on.check(case(of))) == []
