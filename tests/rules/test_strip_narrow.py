from __future__ import annotations

import pytest
from shapely.geometry import Polygon, box

from rules.cards import bench, codes, cut, judge, near, only, rails, strip, with_limits

PLUS, MINUS = rails()


@pytest.mark.parametrize(
    ("width", "count"), [(5.0, 0), (3.0, 0), (2.995, 0), (2.95, 1), (2.1, 1), (1.5, 1)]
)
def test_a_line_below_at_and_above_the_limit(width: float, count: int) -> None:
    thin = strip("thin", ((60, 45), (30, 45)), width, polarity="negative")
    found = judge(bench(thin))
    assert codes(found) == [("strip-narrow", "caution")] * count
    for finding in found:
        near(finding, 45, 45)
        assert finding.objects == ("thin",)


def waist(width: float) -> Polygon:
    """A filled strip 6 mm wide, 40 mm long, with a waist in the middle, joined to the lead."""
    half = width / 2
    return Polygon(
        [(20, 42), (36, 42), (38, 45 - half), (42, 45 - half), (44, 42), (62, 42),
         (62, 48), (44, 48), (42, 45 + half), (38, 45 + half), (36, 48), (20, 48)]
    )  # fmt: skip


@pytest.mark.parametrize(("width", "count"), [(4.0, 0), (3.0, 0), (2.9, 1), (1.0, 1)])
def test_a_waist_below_and_above_the_limit(width: float, count: int) -> None:
    found = judge(bench(cut("waist", waist(width), "negative")))
    assert codes(found) == [("strip-narrow", "caution")] * count
    for finding in found:
        near(finding, 40, 45)


def test_the_figures() -> None:
    thin = strip("thin", ((60, 45), (30, 45)), 2.1, polarity="negative")
    finding = only(bench(thin), "strip-narrow", "caution")
    assert "2.1 mm" in finding.message
    assert "3 mm" in finding.remedy
    message = only(bench(cut("waist", waist(1.0), "negative")), "strip-narrow", "caution").message
    assert "1 mm" in message


def test_corners_and_ends_do_not_count() -> None:
    pointed = Polygon([(62, 42), (30, 42), (25, 45), (30, 48), (62, 48)])
    assert judge(bench(cut("pointed", pointed, "negative"))) == []
    assert judge(bench(cut("square", box(20, 42, 62, 45), "negative"))) == []


def test_a_triangle_that_is_narrow_all_over_is_named() -> None:
    sliver = Polygon([(62, 43.6), (62, 46.4), (20, 45)])
    assert codes(judge(bench(cut("sliver", sliver, "negative")))) == [("strip-narrow", "caution")]


def test_one_finding_per_strip_and_other_limits() -> None:
    two = [
        strip("one", ((60, 40), (30, 40)), 2.0, polarity="negative"),
        strip("two", ((60, 50), (30, 50)), 2.0, polarity="negative"),
    ]
    assert codes(judge(bench(*two))) == [("strip-narrow", "caution")] * 2
    assert judge(bench(*two), with_limits(narrowest_tape=2.0)) == []
