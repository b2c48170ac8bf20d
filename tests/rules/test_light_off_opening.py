from __future__ import annotations

import pytest
from shapely.geometry import Point, box

from rules.cards import SPOTS, bench, codes, judge, light, near, only, opening, window
from underlit.model.card import Card

REST = bench().openings[1:]


def shifted(off: float) -> Card:
    """Window 1 has a radius of 4 mm and lies so far left of light 1."""
    return bench(openings=(opening(1, (20 - off, 24)), *REST))


@pytest.mark.parametrize(("off", "count"), [(0.0, 0), (3.9, 0), (4.0, 0), (4.05, 1), (10.0, 1)])
def test_below_at_and_above_the_rim_of_the_window(off: float, count: int) -> None:
    found = [f for f in judge(shifted(off)) if f.rule == "light-off-opening"]
    assert codes(found) == [("light-off-opening", "caution")] * count
    for finding in found:
        near(finding, *SPOTS[0])
        assert finding.objects == ("light-1",)


def test_the_remedy_says_how_far_and_which_way() -> None:
    found = [f for f in judge(shifted(10.0)) if f.rule == "light-off-opening"]
    assert "Light 1" in found[0].message
    assert "6 mm left" in found[0].remedy


def test_up_and_down_are_said_too() -> None:
    """Windows beyond the plus rail, and beyond the minus rail to the right."""
    above = judge(bench(openings=(opening(1, (20, 12)), *REST)))
    assert "8 mm up" in above[0].remedy
    below = judge(bench(openings=(window(1, box(24, 33, 28, 37)), *REST)))
    assert "4 mm right and 9 mm down" in below[0].remedy


@pytest.mark.parametrize("shows", ["through", "edge"])
def test_lights_that_show_otherwise_need_no_window(shows: str) -> None:
    lamp = light("light-1", SPOTS[0], shows=shows)
    assert judge(bench(lights=(lamp, *bench().lights[1:]), openings=REST)) == []


def test_an_uncut_area_that_glows_is_a_window() -> None:
    area = opening(1, SPOTS[0], through=True)
    assert judge(bench(openings=(area, *REST))) == []


def test_a_glued_piece_hides_the_light() -> None:
    ring = Point(SPOTS[0]).buffer(6).difference(Point(SPOTS[0]).buffer(3))
    hidden = window(1, Point(SPOTS[0]).buffer(6), clear=ring)
    found = judge(bench(openings=(hidden, *REST)))
    assert ("light-off-opening", "caution") in codes(found)


def test_a_panel_without_any_window() -> None:
    of = bench(openings=(), lights=bench().lights[:1])
    finding = only(of, "light-off-opening", "caution")
    assert "through" in finding.remedy


def test_without_a_panel_there_is_nothing_to_be_behind() -> None:
    assert judge(bench(panels=(), openings=())) == []
