from __future__ import annotations

from shapely.geometry import box

from rules.cards import bench, case, codes, cut, holder, judge, near, only, patch, rails, strip
from underlit.rules import polarities_touch

PLUS, MINUS = rails()


def test_a_crossing_is_one_stop_where_the_strips_cross() -> None:
    over = strip("over", ((28, 20), (28, 33)), polarity="positive")
    finding = only(bench(over), "polarities-touch", "stop")
    near(finding, 28, 28)
    assert finding.objects == ("over", "minus")
    assert "touch" in finding.message


def test_below_at_and_above_the_tolerance() -> None:
    """A short end that stops 0.005, 0.01 and 0.02 mm before the minus rail at y 25.5."""

    def end(gap: float):  # type: ignore[no-untyped-def]
        return bench(cut("end", box(40, 20, 45, 25.5 - gap), "positive"))

    near(only(end(0.005), "polarities-touch", "stop"), 42.5, 25.5)
    assert codes(judge(end(0.01))) in (
        [("polarities-touch", "stop")],
        [("gap-too-small", "stop")],
    )
    assert codes(judge(end(0.02))) == [("gap-too-small", "stop")]


def test_corners_that_meet_in_a_point() -> None:
    """A piece on the plus rail whose corner is the upper right corner of the minus strip."""
    corner = cut("corner", box(62.5, 20, 67.5, 25.5), "positive")
    near(only(bench(corner), "polarities-touch", "stop"), 62.5, 25.5)


def test_two_separate_crossings_are_two_findings() -> None:
    hook = strip("hook", ((26, 20), (26, 37), (44, 37), (44, 24)), polarity="positive")
    found = judge(bench(hook))
    assert codes(found) == [("polarities-touch", "stop")] * 2
    near(found[0], 26, 28)
    near(found[1], 44, 28)


def test_through_a_foot() -> None:
    stray = strip("stray", ((16, 20.5), (16, 28)), polarity="negative", width=5.4)
    plus = strip("plus", ((19.2, 20), (90, 20), (90, 62.5)), polarity="positive")
    finding = only(bench(stray, strips=[plus, MINUS]), "polarities-touch", "stop")
    near(finding, 18.6, 21.0)
    assert finding.objects == ("light-1", "stray")
    assert "foot of light 1" in finding.message


def test_a_patch_between_mends_it_and_one_in_the_wrong_place_of_the_order_does_not() -> None:
    paper = patch("paper", box(83, 33, 97, 47))
    over = strip("over", ((57.5, 40), (95, 40)), polarity="negative")
    assert judge(bench(paper, over)) == []
    near(only(bench(strips=[paper, *rails(), over]), "polarities-touch", "stop"), 90, 40)


def test_a_guess_says_so() -> None:
    blank = [strip(s.name, list(s.line.coords)) for s in rails() if s.line]
    over = strip("over", ((57.5, 40), (95, 40)))
    of = bench(over, strips=blank, lights=(), openings=())
    (finding,) = polarities_touch.check(case(of))
    assert "guess" in finding.message
    assert "guess" not in only(bench(over), "polarities-touch", "stop").message


def test_batteries_in_a_row_are_named() -> None:
    """The plus foot of a second battery lies on the minus tape of the first."""
    second = holder("second", (43, 60), 0.0)
    found = judge(bench(cells=(holder(), second)))
    touch = [f for f in found if f.rule == "polarities-touch"]
    assert len(touch) == 1
    assert "in a row" in touch[0].message
