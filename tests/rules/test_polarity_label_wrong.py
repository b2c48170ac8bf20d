from __future__ import annotations

import dataclasses

import pytest

from rules.cards import bench, case, judge, near, notes, only, rails, strip
from underlit.rules import polarity_label_wrong

PLUS, MINUS = rails()


def test_a_plus_strip_labelled_minus() -> None:
    wrong = strip("plus", list(PLUS.line.coords), polarity="negative")
    finding = only(bench(strips=[wrong, MINUS]), "polarity-label-wrong", "note")
    assert finding.objects == ("plus",)
    assert "labelled minus" in finding.message
    assert "plus side" in finding.message
    near(finding, 90, 20, 80)


@pytest.mark.parametrize("label", ["positive", None])
def test_a_right_label_or_none_is_fine(label: str | None) -> None:
    own = strip("plus", list(PLUS.line.coords), polarity=label)
    assert notes(bench(strips=[own, MINUS])) == []


def test_one_finding_per_strip() -> None:
    a = strip("plus", list(PLUS.line.coords), polarity="negative")
    b = strip("minus", list(MINUS.line.coords), polarity="positive")
    of = bench(strips=[a, b])
    assert judge(of) == []
    assert [f.objects for f in notes(of)] == [("plus",), ("minus",)]


def test_a_strip_that_joins_no_battery_may_say_what_it_likes() -> None:
    lost = strip("lost", ((10, 60), (40, 60)), polarity="negative")
    assert list(polarity_label_wrong.check(case(bench(lost)))) == []


def test_a_misspelt_label_is_told() -> None:
    own = dataclasses.replace(strip("plus", list(PLUS.line.coords)), unknown_label="postive")
    finding = only(bench(strips=[own, MINUS]), "polarity-label-wrong", "note")
    assert "postive" in finding.message
    assert "positive or negative" in finding.remedy
