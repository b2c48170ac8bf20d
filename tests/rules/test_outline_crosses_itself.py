from __future__ import annotations

import math

from rules.draw_faulty import CUT, Draft
from rules.drawings import at, changed, die_cut, told

STAR = "M 80 14 L 84.7 28.5 L 72.4 19.5 L 87.6 19.5 L 75.3 28.5 Z"


def star(d: Draft) -> str:
    return d.sheet.path(STAR, CUT + ";fill-rule:nonzero", id="star")


def test_a_star_drawn_in_one_go_is_unclear_in_its_middle() -> None:
    rows = die_cut(star)
    assert told(rows) == [("outline-crosses-itself", "stop", ("star",))]
    assert math.dist(at(rows[0]), (80, 22)) < 6
    assert rows[0]["remedy"]


def test_even_odd_says_what_is_meant() -> None:
    def clear(d: Draft) -> str:
        return d.sheet.path(STAR, CUT + ";fill-rule:evenodd", id="star")

    assert "outline-crosses-itself" not in {row["rule"] for row in die_cut(clear)}


def test_an_eight_crosses_itself_but_encloses_the_same_either_way() -> None:
    def eight(d: Draft) -> str:
        return d.sheet.path("M 76 16 L 84 16 L 76 26 L 84 26 Z", CUT, id="eight")

    assert "outline-crosses-itself" not in {row["rule"] for row in die_cut(eight)}


def test_a_small_overrun_at_the_start_is_mended_silently() -> None:
    def hair(d: Draft) -> str:
        return d.sheet.path("M 76 16 L 84 16 L 84 26 L 76 26 L 76 15.95 L 76.05 16 Z", CUT, id="h")

    assert "outline-crosses-itself" not in {row["rule"] for row in die_cut(hair)}


def test_foam_is_judged_and_tape_is_not() -> None:
    def on_foam(d: Draft) -> None:
        d.layers["foam"] = [d.sheet.path(STAR, "fill:#888;fill-rule:nonzero", id="pad")]

    def on_tape(d: Draft) -> None:
        d.layers["tape"].append(d.sheet.path(STAR, "fill:#888;fill-rule:nonzero", id="scrap"))

    assert told(changed(on_foam)) == [("outline-crosses-itself", "stop", ("pad",))]
    assert "outline-crosses-itself" not in {row["rule"] for row in changed(on_tape)}
