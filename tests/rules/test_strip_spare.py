from __future__ import annotations

import pytest

from rules.cards import bench, case, codes, judge, near, notes, only, rails, strip
from underlit.rules import strip_spare


@pytest.mark.parametrize(("length", "count"), [(9.0, 0), (10.0, 0), (10.1, 1), (30.0, 1)])
def test_below_at_and_above_10_mm(length: float, count: int) -> None:
    of = bench(strip("spare", ((60, 42), (60 - length, 42)), polarity="negative"))
    assert judge(of) == []
    found = notes(of)
    assert codes(found) == [("strip-spare", "note")] * count
    for finding in found:
        near(finding, 60 - length / 2, 42, length / 2)
        assert finding.objects == ("spare",)
        assert f"{length:.1f}".rstrip("0").rstrip(".") in finding.message


def test_a_chain_of_dead_ends_names_each() -> None:
    of = bench(
        strip("one", ((60, 42), (30, 42)), polarity="negative"),
        strip("two", ((32.5, 42), (32.5, 60)), polarity="negative"),
    )
    assert [f.objects for f in notes(of)] == [("one",), ("two",)]


def test_what_leads_to_a_foot_is_needed() -> None:
    assert list(strip_spare.check(case(bench()))) == []


def test_what_floats_is_not_spare() -> None:
    of = bench(strip("lost", ((10, 60), (40, 60))))
    assert only(of, "strip-floating", "note").objects == ("lost",)


def test_before_there_is_a_battery_nothing_is_said() -> None:
    assert list(strip_spare.check(case(bench(cells=(), strips=rails()[:1])))) == []
