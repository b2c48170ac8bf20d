from __future__ import annotations

import pytest
from shapely.geometry import box

from rules.cards import bench, codes, judge, light, near, only, part, strip


@pytest.mark.parametrize(
    ("beyond", "count"), [(0.2, 0), (0.3, 0), (0.309, 0), (0.33, 1), (0.5, 1), (4.0, 1)]
)
def test_tape_below_at_and_above_the_limit(beyond: float, count: int) -> None:
    over = strip("over", ((60, 45), (60, 80 + beyond)), polarity="negative")
    found = [f for f in judge(bench(over)) if f.rule == "off-base"]
    assert codes(found) == [("off-base", "stop")] * count
    for finding in found:
        near(finding, 60, 80 + beyond / 2)
        assert finding.objects == ("over",)


def test_how_far_and_nothing_about_the_edge() -> None:
    over = strip("over", ((60, 45), (60, 84)), polarity="negative")
    finding = only(bench(over), "off-base", "stop")
    assert "4 mm" in finding.message


def test_a_body_counts_too() -> None:
    out = light("out", (98, 70), 0.0, shows="through")
    found = [f for f in judge(bench(lights=(*bench().lights, out))) if f.rule == "off-base"]
    assert codes(found) == [("off-base", "stop")]
    assert "Light 4" in found[0].message
    near(found[0], 102, 70)


def test_a_hole_in_the_base_counts() -> None:
    holed = box(0, 0, 100, 80).difference(box(28, 27, 30, 29))
    found = judge(bench(base=holed))
    assert ("off-base", "stop") in codes(found)


def test_a_pull_tab_may_stick_out() -> None:
    tab = part("pull-tab", "tab", {"body": box(70, 55, 130, 65)})
    assert judge(bench(pull_tabs=(tab,))) == []
