from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import box

from rules.cards import (
    bench,
    case,
    codes,
    cut,
    judge,
    light,
    near,
    only,
    patch,
    rails,
    strip,
    with_limits,
    with_tape,
)
from underlit.model.card import Card

PLUS, MINUS = rails()


def end(gap: float) -> Card:
    """An end of plus tape, far from any part, that stops before the minus lead at x 62.5."""
    return bench(
        strip("end", ((62.5 + gap, 42), (90, 42)), polarity="positive"),
    )


@pytest.mark.parametrize(
    ("gap", "expected"),
    [
        (2.5, []),
        (2.0, []),
        (1.991, []),
        (1.98, [("gap-too-small", "caution")]),
        (1.0, [("gap-too-small", "caution")]),
        (0.991, [("gap-too-small", "caution")]),
        (0.98, [("gap-too-small", "stop")]),
        (0.1, [("gap-too-small", "stop")]),
    ],
)
def test_below_at_and_above_the_limit_and_half_of_it(
    gap: float, expected: list[tuple[str, str]]
) -> None:
    found = judge(end(gap))
    assert codes(found) == expected
    for finding in found:
        near(finding, 62.5 + gap / 2, 42)
        assert set(finding.objects) == {"minus", "end"}
        assert "needs 2" in finding.message
        assert "only 2 mm" not in finding.message


def test_the_message_carries_the_figures() -> None:
    finding = only(end(1.3), "gap-too-small", "caution")
    assert "1.3 mm" in finding.message
    assert "needs 2" in finding.message


def test_two_stretches_of_one_pair_are_two_findings() -> None:
    fork = strip("fork", ((64, 38), (90, 38)), polarity="positive")
    lower = strip("lower", ((64, 46), (90, 46)), polarity="positive")
    one = cut("comb", fork.geometry.union(lower.geometry).union(box(80, 38, 85, 46)), "positive")
    found = judge(bench(one))
    assert codes(found) == [("gap-too-small", "caution")] * 2
    near(found[0], 63.25, 38)
    near(found[1], 63.25, 46)


def test_a_long_stretch_is_one_finding_in_its_middle() -> None:
    along = strip("along", ((66.3, 33), (66.3, 47), (90, 47)), polarity="positive")
    near(only(bench(along), "gap-too-small", "caution"), 63.1, 41.2, 1.5)


def test_strips_of_one_stretch_are_tied_together() -> None:
    """The plus strip along the minus lead is laid in two overlapping pieces."""
    upper = strip("upper", ((66.3, 33), (66.3, 42)), polarity="positive")
    lower = strip("lower", ((66.3, 38), (66.3, 47), (90, 47)), polarity="positive")
    finding = only(bench(upper, lower), "gap-too-small", "caution")
    assert set(finding.objects) == {"minus", "upper", "lower"}


def test_beside_a_short_nothing_more_is_said_but_elsewhere_it_is() -> None:
    cross = strip("cross", ((28, 20), (28, 33)), polarity="positive")
    assert codes(judge(bench(cross))) == [("polarities-touch", "stop")]
    found = judge(bench(cross, strip("end", ((64, 42), (90, 42)), polarity="positive")))
    assert codes(found) == [("polarities-touch", "stop"), ("gap-too-small", "caution")]


def test_at_a_light_its_own_gap_holds() -> None:
    """Rails 1.5 mm apart: enough at a light (1 mm), too near 2 mm beyond its body."""
    plus = strip("plus", ((10, 20), (90, 20), (90, 62.5)), polarity="positive")
    wide = cut("wide", box(17, 20, 23, 24), "positive")
    assert judge(bench(wide, strips=[plus, MINUS])) == []
    wide = cut("wide", box(17, 20, 23, 24.6), "positive")
    finding = only(bench(wide, strips=[plus, MINUS]), "gap-too-small", "caution")
    assert "0.9 mm" in finding.message
    assert "needs 1" in finding.message
    far = cut("far", box(25, 20, 30, 24), "positive")
    assert "needs 2" in only(bench(far, strips=[plus, MINUS]), "gap-too-small", "caution").message


def test_in_one_stretch_the_stop_comes_before_a_closer_place_that_is_none() -> None:
    """0.8 mm at the light, where 1 holds, and 0.9 mm beside it, where 2 hold."""
    wide = box(17, 20, 23, 24.7).union(box(23, 20, 28, 24.6))
    finding = only(bench(cut("wide", wide, "positive")), "gap-too-small", "stop")
    assert "0.9 mm" in finding.message
    near(finding, 26, 25.05, 2.5)


def test_the_two_feet_of_a_light_are_held_against_its_own_gap() -> None:
    near_feet = light("tight", (20, 24))
    features = dict(near_feet.features)
    features["positive-pad"] = box(18.5, 18.5, 21.5, 24.7)
    features["negative-pad"] = box(18.5, 25.5, 21.5, 29.5)
    tight = replace(near_feet, features=features)
    of = bench(lights=(tight,), openings=bench().openings[:1])
    finding = only(of, "gap-too-small", "caution")
    assert "0.8 mm" in finding.message


def test_a_foot_beside_foreign_tape_counts() -> None:
    """The plus foot of a light reaches 0.6 mm near to stray minus tape, its strip does not."""
    plus = strip("plus", ((10, 19), (90, 19), (90, 62.5)), 3.0, polarity="positive")
    stray = strip("stray", ((35, 22.1), (35, 28)), 3.0, polarity="negative")
    of = bench(
        strips=[plus, MINUS, stray],
        lights=(light("low", (35, 24)),),
        openings=bench().openings[1:2],
    )
    finding = only(of, "gap-too-small", "caution")
    assert "0.6 mm" in finding.message
    assert set(finding.objects) == {"low", "stray"}
    near(finding, 35, 21.8)


def crossing(margin: float) -> Card:
    """Minus crosses the plus lead over a patch that reaches `margin` beyond the crossing."""
    reach = 2.5 + margin
    paper = patch("paper", box(90 - reach, 40 - reach, 90 + reach, 40 + reach))
    return bench(paper, strip("over", ((57.5, 40), (96, 40)), polarity="negative"))


def test_a_patch_must_reach_the_smallest_gap_beyond_the_crossing() -> None:
    assert judge(crossing(2.0)) == []
    assert judge(crossing(1.995)) == []
    finding = only(crossing(1.7), "gap-too-small", "caution")
    assert "1.7 mm" in finding.message
    near(finding, 90, 40, 4.5)
    only(crossing(0.5), "gap-too-small", "stop")


def test_other_limits_hold_for_other_hands() -> None:
    assert judge(end(1.5), with_limits(smallest_gap=1.5)) == []
    assert codes(judge(end(2.5), with_limits(smallest_gap=3.0))) == [("gap-too-small", "caution")]


def test_the_same_side_may_be_as_near_as_it_likes() -> None:
    assert (
        judge(bench(strip("near", ((66, 42), (66, 62.5), (61, 62.5)), polarity="negative"))) == []
    )


def test_crossing_tape_that_does_not_conduct_is_no_short_but_no_insulation_either() -> None:
    plain = with_tape(adhesive_conducts=False)
    over = strip("over", ((57.5, 40), (95, 40)), polarity="negative", joint="folded-end")
    assert codes(judge(bench(over), plain)) == [("polarities-touch", "stop")]
    lying = strip("lying", ((75, 31), (95, 31)), polarity="negative")
    assert case(bench(lying), plain).circuit.shorts == ()


def test_before_there_is_a_battery_labels_and_lights_are_taken_at_their_word() -> None:
    of = bench(strip("end", ((64, 42), (90, 42)), polarity="positive"), cells=())
    assert ("gap-too-small", "caution") in codes(judge(of))
