from __future__ import annotations

import pytest
from shapely.affinity import translate
from shapely.geometry import box

from rules.cards import bench, codes, fold, holder, judge, near, only
from underlit.model.card import Panel


@pytest.mark.parametrize(
    ("beyond", "count"), [(0.0, 0), (0.05, 0), (0.1, 0), (0.2, 1), (1.5, 1), (10.0, 1)]
)
def test_below_at_and_above_what_passes(beyond: float, count: int) -> None:
    found = judge(bench(base=box(-beyond, 0, 100, 80)))
    assert codes(found) == [("base-shows", "caution")] * count
    for finding in found:
        near(finding, -beyond / 2, 40)
        assert finding.objects == ("base",)


def test_how_far_and_on_which_side() -> None:
    finding = only(bench(base=box(-1.5, 0, 100, 80)), "base-shows", "caution")
    assert "1.5 mm" in finding.message
    assert "left" in finding.message
    finding = only(bench(base=box(0, 0, 100, 83)), "base-shows", "caution")
    assert "bottom" in finding.message


def test_a_base_cut_by_common_measures_is_hidden_all_round() -> None:
    """A 4 1/2 in base under a 4 5/8 in panel, as goes on a 5 in card front: 1/16 in each side.

    Common practice, no source.
    """
    inch = 25.4
    panel, base, front = 4.625 * inch, 4.5 * inch, 5.0 * inch
    edge = (front - panel) / 2.0
    sixteenth = inch / 16.0
    assert (panel - base) / 2.0 == pytest.approx(sixteenth)
    cover = box(edge, edge, edge + panel, edge + panel)
    sheet = box(*(edge + sixteenth,) * 2, *(edge + sixteenth + base,) * 2)

    def shows(shift: float) -> bool:
        moved = translate(sheet, shift, -shift)
        found = judge(bench(panels=(Panel("panel", cover),), base=moved))
        return ("base-shows", "caution") in codes(found)

    assert not any(map(shows, (0.0, sixteenth, -sixteenth)))
    assert all(map(shows, (sixteenth + 0.2, -sixteenth - 0.2)))


def test_all_round_is_one_finding() -> None:
    assert codes(judge(bench(base=box(-2, -2, 102, 82)))) == [("base-shows", "caution")]


def test_without_a_drawn_base_or_panel_nothing_shows() -> None:
    assert judge(bench(base_drawn=False, base_objects=())) == []
    assert judge(bench(panels=(), openings=())) == []


def test_two_bases_are_judged_on_their_own() -> None:
    both = box(0, 0, 100, 81).union(box(200, 0, 210, 10))
    panels = (Panel("panel", box(0, 0, 100, 80)), Panel("second", box(200, 0, 210, 10)))
    found = judge(bench(base=both, base_objects=("base", "other"), panels=panels))
    assert codes(found) == [("base-shows", "caution")]
    assert found[0].objects == ("base",)


def test_a_flap_counts_where_it_lies_folded() -> None:
    line = fold("f", ((0, 80), (100, 80)), "once", "battery")
    cells = (holder(closes="flap"),)
    tall = box(0, 0, 100, 100)
    found = judge(bench(base=tall, folds=(line,), cells=cells))
    assert "base-shows" not in {f.rule for f in found}
    assert "base-shows" in {f.rule for f in judge(bench(base=tall))}
