from __future__ import annotations

import pytest

from rules.draw_faulty import Draft, strip
from rules.drawings import at, changed, told


@pytest.mark.parametrize(("width", "sketch"), [(0.3, True), (1.49, True), (1.5, False)])
def test_below_and_above_1_5_mm(width: float, sketch: bool) -> None:
    rows = changed(
        lambda d: d.layers["tape"].append(strip(d.sheet, "plan", ((20, 80), (45, 80)), None, width))
    )
    rules = {row["rule"] for row in rows}
    assert ("sketch-line" in rules) == sketch
    assert ("strip-floating" in rules) == (not sketch)


def test_all_of_them_are_one_note() -> None:
    def two(d: Draft) -> None:
        d.layers["tape"] += [
            strip(d.sheet, "plan-a", ((20, 80), (45, 80)), None, 0.5),
            strip(d.sheet, "plan-b", ((20, 90), (45, 90)), None, 0.5),
        ]

    rows = changed(two)
    assert told(rows) == [("sketch-line", "note", ("plan-a", "plan-b"))]
    assert at(rows[0])[1] in (pytest.approx(80), pytest.approx(90))
    assert "2 thin lines" in rows[0]["message"]


def test_a_filled_thin_thing_is_tape() -> None:
    def sliver(d: Draft) -> None:
        shape = d.sheet.rect((20, 80, 25, 1), "fill:#777", id="sliver")
        d.layers["tape"].append(shape)

    assert "sketch-line" not in {row["rule"] for row in changed(sliver)}
