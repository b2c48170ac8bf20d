from __future__ import annotations

import math

import pytest

from rules.draw_faulty import CUT, Draft
from rules.drawings import at, die_cut, told


def square(gap: float):  # type: ignore[no-untyped-def]
    """A window of 10 mm whose outline misses its start by so much."""

    def shape(d: Draft) -> str:
        return d.sheet.path(f"M 20 70 L 30 70 L 30 80 L 20 80 L 20 {70 + gap:g}", CUT, id="square")

    return shape


def score(d: Draft) -> str:
    return d.sheet.path("M 20 90 L 45 90 L 45 100", CUT, id="score")


def test_a_line_inside_the_panel_is_a_note() -> None:
    rows = die_cut(score)
    assert told(rows) == [("outline-open", "note", ("score",))]
    assert rows[0]["message"]
    assert rows[0]["remedy"]


@pytest.mark.parametrize(("gap", "closed"), [(0.0, True), (0.04, True), (0.2, False), (3.0, False)])
def test_ends_within_a_twentieth_close(gap: float, closed: bool) -> None:
    rows = [row for row in die_cut(square(gap)) if row["rule"] == "outline-open"]
    assert len(rows) == (0 if closed else 1)


def test_where_the_ends_nearly_meet_the_gap_is_marked() -> None:
    rows = [row for row in die_cut(square(0.3)) if row["rule"] == "outline-open"]
    assert math.dist(at(rows[0]), (20, 70.15)) < 0.5
    assert "0.3 mm" in rows[0]["message"]
