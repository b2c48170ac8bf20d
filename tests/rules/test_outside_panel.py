from __future__ import annotations

from dataclasses import replace

from shapely import affinity

from rules.cards import BASE, bench, case, judge, only
from underlit.model.card import Panel
from underlit.rules import outside_panel


def panel_at(x: float) -> object:
    windows = tuple(
        replace(o, outline=affinity.translate(o.outline, x), clear=affinity.translate(o.clear, x))
        for o in bench().openings
    )
    return bench(panels=(Panel("panel", affinity.translate(BASE, x, 0)),), openings=windows)


def test_side_by_side_is_one_note_and_windows_are_not_judged() -> None:
    finding = only(panel_at(150), "outside-panel", "note")  # type: ignore[arg-type]
    assert finding.objects == ("base",)
    assert finding.at is not None
    assert 0 < finding.at[0] < 100


def test_touching_edges_are_still_apart_and_a_common_strip_is_not() -> None:
    assert len(list(outside_panel.check(case(panel_at(100))))) == 1  # type: ignore[arg-type]
    assert list(outside_panel.check(case(panel_at(99)))) == []  # type: ignore[arg-type]


def test_a_base_inside_the_panel_lies_over_it() -> None:
    of = bench(base=affinity.scale(BASE, 0.9, 0.95))
    assert list(outside_panel.check(case(of))) == []
    assert "outside-panel" not in {f.rule for f in judge(of)}
