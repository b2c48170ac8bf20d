from __future__ import annotations

import math

from rules.draw_faulty import CUT, Draft
from rules.drawings import at, changed, die_cut, told


def ring(x: float, y: float, name: str, **more: str):  # type: ignore[no-untyped-def]
    """A ring-shaped window: its middle falls out."""

    def shapes(d: Draft) -> str:
        s = d.sheet
        middle = s.circle(x, y, 3, CUT, id=f"{name}-middle", **more)
        return s.circle(x, y, 6, CUT, id=name) + "\n" + middle

    return shapes


def test_a_piece_that_falls_out_is_a_caution() -> None:
    rows = die_cut(ring(80, 22, "moon"))
    assert told(rows) == [("loose-piece", "caution", ("moon-middle",))]
    assert math.dist(at(rows[0]), (80, 22)) < 1
    assert "1 " in rows[0]["message"]
    assert rows[0]["remedy"]


def test_all_of_one_panel_are_one_finding() -> None:
    rows = die_cut(ring(80, 22, "moon"), ring(60, 22, "sun"))
    assert [row["rule"] for row in rows] == ["loose-piece"]
    assert set(rows[0]["objects"]) == {"moon-middle", "sun-middle"}
    assert "2 " in rows[0]["message"]


def test_what_is_glued_back_or_lies_on_vellum_stays() -> None:
    assert die_cut(ring(80, 22, "moon", underlit__glued="true")) == []

    def vellum(d: Draft) -> None:
        d.layers["die-cut"].append(ring(80, 22, "moon")(d))
        d.layers["diffuser"] = [d.sheet.rect((70, 12, 20, 20), "fill:#eee", id="vellum")]

    assert changed(vellum) == []
