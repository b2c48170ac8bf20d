from __future__ import annotations

from dataclasses import replace

import pytest
from shapely import affinity
from shapely.geometry import box

from rules.cards import (
    BASE,
    bench,
    codes,
    judge,
    near,
    only,
    patch,
    sheet,
    window,
    with_limits,
)
from underlit.model.card import Panel

OWN = bench().openings


def foreign(area: float, **more: object):  # type: ignore[no-untyped-def]
    """A window of 10 x 10 mm that lets in so much (mm2) of the minus lead at x 57.5."""
    return window(4, box(57.5 + area / 10 - 10, 36, 57.5 + area / 10, 46), **more)


@pytest.mark.parametrize(
    ("area", "count"), [(1.0, 0), (2.0, 0), (2.005, 0), (2.1, 1), (20.0, 1), (49.0, 1)]
)
def test_a_foreign_window_below_at_and_above_the_limit(area: float, count: int) -> None:
    found = judge(bench(openings=(*OWN, foreign(area))))
    assert codes(found) == [("tape-shows", "caution")] * count
    for finding in found:
        near(finding, 57.5 + area / 20, 41)
        assert finding.objects == ("window-4",)


def test_the_figures() -> None:
    finding = only(bench(openings=(*OWN, foreign(20.0))), "tape-shows", "caution")
    assert "window 4" in finding.message
    assert "20 mm²" in finding.message
    assert "up to 2" in finding.message


def test_patches_show_too() -> None:
    shown = window(4, box(75, 36, 85, 46))
    paper = patch("paper", box(70, 30, 84, 50))
    assert codes(judge(bench(paper, openings=(*OWN, shown)))) == [("tape-shows", "caution")]


@pytest.mark.parametrize(("limit", "count", "told"), [
    (0.3, 1, "Tape fills 39 % of window 2 (up to 30 %"),
    (0.387, 1, "Tape fills 38.8 % of window 2 (up to 38.7 %"),
    (0.3875, 0, ""),
    (0.5, 0, ""),
])  # fmt: skip
def test_a_window_with_a_light_is_judged_by_its_share(limit: float, count: int, told: str) -> None:
    """20 x 20 mm about light 2: rails fill 2 x 20 x 5 mm2 less the body's 5 x 9."""
    wide = window(2, box(25, 14, 45, 34))
    of = bench(openings=(OWN[0], wide, OWN[2]))
    assert (2 * 20 * 5 - 5 * 9) / 400 == 0.3875
    found = judge(of, with_limits(own_opening_tape=limit))
    assert codes(found) == [("tape-shows", "caution")] * count
    for finding in found:
        assert finding.message.startswith(told)


def test_one_finding_per_window() -> None:
    second = replace(foreign(30.0), number=5, name="window-5")
    moved = replace(second, clear=box(84, 36, 94, 46), outline=box(84, 36, 94, 46))
    found = judge(bench(openings=(*OWN, foreign(20.0), moved)))
    assert codes(found) == [("tape-shows", "caution")] * 2


def test_what_hides() -> None:
    cover = sheet("cover", "cover", box(50, 32, 70, 50))
    assert judge(bench(openings=(*OWN, foreign(20.0)), covers=(cover,))) == []
    glued = foreign(20.0, clear=box(49.5, 36, 57, 46))
    assert judge(bench(openings=(*OWN, glued))) == []
    through = foreign(20.0, through=True)
    assert judge(bench(openings=(*OWN, through))) == []


def test_nothing_is_said_where_base_and_panel_lie_apart_or_the_back_carries_the_circuit() -> None:
    far = bench(openings=(*OWN, foreign(20.0)), side="back")
    assert judge(far) == []
    away = affinity.translate(BASE, 200, 0)
    windows = tuple(
        replace(
            o, outline=affinity.translate(o.outline, 200), clear=affinity.translate(o.clear, 200)
        )
        for o in OWN
    )
    assert judge(bench(panels=(Panel("panel", away),), openings=windows)) == []
