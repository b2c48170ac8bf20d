from __future__ import annotations

import pytest
from shapely.geometry import box

from rules.cards import bench, codes, holder, judge, light, near, notes, only, patch, rails, strip

PLUS, MINUS = rails()
ENDS = ((10.0, 28.0), (60.0, 28.0), (60.0, 62.5))


def test_a_foot_without_tape_says_which_and_how_far() -> None:
    """The minus rail begins at x 23.5, 2 mm beside the foot of light 1 (x 18.5 to 21.5)."""
    short = strip("minus", ((23.5, 28), *ENDS[1:]), polarity="negative")
    finding = only(bench(strips=[PLUS, short]), "light-unfed", "stop")
    near(finding, 20, 28)
    assert finding.objects == ("light-1",)
    assert "minus foot of light 1" in finding.message
    assert "2 mm short" in finding.message


@pytest.mark.parametrize(("start", "rule"), [(21.6, "light-unfed"), (21.4, "pad-barely-covered")])
def test_below_and_above_touching(start: float, rule: str) -> None:
    of = bench(strips=[PLUS, strip("minus", ((start, 28), *ENDS[1:]), polarity="negative")])
    assert codes(judge(of)) == [(rule, "stop")]


def test_a_strip_cut_off_behind_a_light() -> None:
    piece = strip("piece", ((15, 28), (27, 28)), polarity="negative")
    rest = strip("rest", ((29.5, 28), *ENDS[1:]), polarity="negative")
    of = bench(strips=[PLUS, piece, rest])
    finding = only(of, "light-unfed", "stop")
    near(finding, 20, 28)
    assert "no way to the battery" in finding.message
    assert notes(of) == []


def test_a_rail_cut_off_behind_two_lights_names_both() -> None:
    piece = strip("piece", ((10, 28), (42, 28)), polarity="negative")
    rest = strip("rest", ((44.5, 28), *ENDS[1:]), polarity="negative")
    found = judge(bench(strips=[PLUS, piece, rest]))
    assert codes(found) == [("light-unfed", "stop")] * 2
    assert [f.objects for f in found] == [("light-1",), ("light-2",)]


def test_both_feet_of_a_light_in_the_middle_of_nowhere_are_two_findings() -> None:
    lost = light("lost", (20, 70), 0.0, shows="through")
    found = judge(bench(lights=(*bench().lights, lost)))
    assert codes(found) == [("light-unfed", "stop")] * 2
    near(found[0], 16, 70)
    near(found[1], 24, 70)


def test_a_patch_under_a_foot_keeps_the_tape_off() -> None:
    paper = patch("paper", box(17, 25, 23, 31))
    finding = only(bench(paper), "light-unfed", "stop")
    near(finding, 20, 28)


def test_a_battery_foot_without_tape_darkens_every_light() -> None:
    away = holder("battery", (75, 67))
    assert away.features["negative-pad"].distance(MINUS.geometry) == pytest.approx(2.0)
    found = judge(bench(cells=(away,)))
    assert {f.rule for f in found} == {"light-unfed"}
    assert len(found) == 6


def test_a_card_without_battery_or_tape_says_that_only_once() -> None:
    assert codes(judge(bench(cells=()))) == [("power-missing", "stop")]
    assert codes(judge(bench(strips=[]))) == [("layer-missing", "stop")]
