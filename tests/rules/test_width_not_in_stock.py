from __future__ import annotations

import pytest
from shapely.geometry import Polygon, box

from rules.cards import bench, case, cut, notes, only, strip
from underlit.rules import width_not_in_stock


def spare(name: str, width: float, y: float = 42.0):  # type: ignore[no-untyped-def]
    """A short end on the minus lead."""
    return strip(name, ((60, y), (52, y)), width, polarity="negative")


@pytest.mark.parametrize(
    ("width", "count"), [(5.0, 0), (5.05, 0), (4.95, 0), (5.06, 1), (4.0, 1), (3.0, 0), (6.35, 0)]
)
def test_below_at_and_above_what_passes(width: float, count: int) -> None:
    assert len(notes(bench(spare("odd", width)))) == count


def test_figures() -> None:
    finding = only(bench(spare("odd", 4.2)), "width-not-in-stock", "note")
    assert "4.2 mm" in finding.message
    assert "6.4" not in finding.message
    assert "6.35" in finding.message
    assert finding.objects == ("odd",)


def test_all_strips_of_one_width_are_one_finding() -> None:
    found = notes(bench(spare("a", 4.0, 38), spare("b", 4.0, 48), spare("c", 7.0, 43)))
    assert [f.objects for f in found] == [("a", "b"), ("c",)]


def test_a_filled_strip_of_even_width_counts_and_one_of_changing_width_is_cut_from_sheet() -> None:
    even = bench(cut("even", box(45, 40, 61, 44.2), "negative"))
    assert [f.objects for f in width_not_in_stock.check(case(even))] == [("even",)]
    wedge = Polygon([(35, 40.4), (61, 38), (61, 46), (35, 43.6)])
    assert list(width_not_in_stock.check(case(bench(cut("wedge", wedge, "negative"))))) == []
