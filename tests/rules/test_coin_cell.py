from __future__ import annotations

from rules.cards import bench, case, holder
from underlit.rules import coin_cell


def test_always_once_where_there_is_a_battery_and_without_a_place() -> None:
    (finding,) = coin_cell.check(case(bench()))
    assert (finding.rule, finding.severity, finding.at) == ("coin-cell", "note", None)
    assert finding.objects == ("battery",)
    assert "children" in finding.message
    assert finding.remedy


def test_two_batteries_are_still_one_note() -> None:
    cells = (holder("a"), holder("b", (75, 90)))
    (finding,) = coin_cell.check(case(bench(cells=cells)))
    assert finding.objects == ("a", "b")


def test_no_battery_no_caution() -> None:
    assert list(coin_cell.check(case(bench(cells=())))) == []
