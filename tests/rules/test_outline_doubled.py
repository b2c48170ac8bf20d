from __future__ import annotations

import pytest

from rules.draw_faulty import CUT, SPOTS, Draft
from rules.drawings import die_cut, told
from samples.shapes import arch, placed


def again(inset: float):  # type: ignore[no-untyped-def]
    """Pane 2 drawn once more, so much smaller on every side."""

    def shape(d: Draft) -> str:
        size = (9 - 2 * inset, 14 - 2 * inset)
        return d.sheet.path(placed(arch(*size), *SPOTS[1]), CUT, id="again")

    return shape


@pytest.mark.parametrize("inset", [0.0, 0.2, 0.5])
def test_within_0_6_mm_all_round_is_one_outline(inset: float) -> None:
    rows = die_cut(again(inset))
    assert told(rows) in (
        [("outline-doubled", "note", ("pane-2", "again"))],
        [("outline-doubled", "note", ("again", "pane-2"))],
        [("outline-doubled", "note", ("again",))],
        [("outline-doubled", "note", ("pane-2",))],
    )
    assert rows[0]["remedy"]


def test_further_inside_it_is_a_piece_of_its_own() -> None:
    rows = die_cut(again(1.0))
    assert "outline-doubled" not in {row["rule"] for row in rows}
    assert "loose-piece" in {row["rule"] for row in rows}
