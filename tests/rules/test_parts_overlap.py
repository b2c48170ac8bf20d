from __future__ import annotations

import pytest
from shapely.geometry import box

from rules.cards import bench, codes, judge, light, near, only, opening, part, two_feet
from underlit.model.card import Card


def pair(apart: float) -> Card:
    """Two lights side by side on the rails, 5 mm wide each."""
    lights = (light("a", (20, 24)), light("b", (20 + apart, 24)))
    return bench(lights=lights, openings=(opening(1, (20, 24)), opening(2, (20 + apart, 24), 2.0)))


@pytest.mark.parametrize(("apart", "count"), [(4.0, 1), (4.98, 1), (4.995, 0), (5.0, 0), (6.0, 0)])
def test_below_at_and_above_touching(apart: float, count: int) -> None:
    found = [f for f in judge(pair(apart)) if f.rule == "parts-overlap"]
    assert codes(found) == [("parts-overlap", "stop")] * count
    for finding in found:
        near(finding, 20 + apart / 2, 24)
        assert finding.objects == ("a", "b")


def test_how_deep() -> None:
    """Bodies overlap by 0.8 mm, lenses and feet do not."""
    finding = only(pair(4.2), "parts-overlap", "stop")
    assert "0.8 mm" in finding.message
    assert "Light 1 and light 2" in finding.message


def test_one_finding_per_pair() -> None:
    extra = two_feet("switch", "s", (75, 45), closes="slide")
    found = [f for f in judge(bench(switches=(extra,))) if f.rule == "parts-overlap"]
    assert codes(found) == []
    extra = two_feet("switch", "s", (75, 51), closes="slide")
    found = [f for f in judge(bench(switches=(extra,))) if f.rule == "parts-overlap"]
    assert [f.objects for f in found] == [("battery", "s")]


def test_a_pull_tab_lies_under_the_battery() -> None:
    tab = part("pull-tab", "tab", {"body": box(70, 55, 110, 65)})
    assert judge(bench(pull_tabs=(tab,))) == []
