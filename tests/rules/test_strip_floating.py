from __future__ import annotations

from rules.cards import bench, case, codes, judge, near, notes, only, strip
from underlit.rules import strip_floating


def test_tape_that_leads_nowhere_is_a_note() -> None:
    of = bench(strip("lost", ((10, 60), (40, 60))))
    finding = only(of, "strip-floating", "note")
    near(finding, 25, 60)
    assert finding.objects == ("lost",)


def test_joined_strips_are_one_finding() -> None:
    of = bench(strip("a", ((10, 60), (40, 60))), strip("b", ((37, 57), (37, 75))))
    found = notes(of)
    assert codes(found) == [("strip-floating", "note")]
    assert found[0].objects == ("a", "b")
    assert judge(of) == []


def test_a_strip_on_the_circuit_does_not_float() -> None:
    assert list(strip_floating.check(case(bench()))) == []


def test_before_there_is_a_battery_everything_floats_and_nothing_is_said() -> None:
    assert list(strip_floating.check(case(bench(cells=())))) == []
