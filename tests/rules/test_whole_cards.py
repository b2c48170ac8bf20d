"""Whole drawings at the edges of what validating has to bear."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from rules.draw_faulty import CUT, SPOTS, Draft, clean, lamp, minus, plus, strip, text_of
from rules.drawings import at, changed, findings, told, validated
from samples.parts import holder
from samples.pen import PATCH

EMPTY = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"/>'
)


def rules_of(change: Callable[[Draft], object]) -> list[str]:
    return [row["rule"] for row in changed(change)]


def test_an_empty_drawing_has_only_missing_layers() -> None:
    found = validated(EMPTY)
    rows = found.report["findings"]
    assert isinstance(rows, list)
    assert told(rows) == [("layer-missing", "stop", ())] * 4
    assert found.report["verdict"] == "not-ready"
    assert found.select == ()
    assert found.report["card"] == {"panel": [0.0, 0.0], "openings": []}


def test_the_clean_card_has_nothing() -> None:
    assert changed(lambda d: None) == []


def test_without_a_battery_there_is_no_avalanche() -> None:
    def none(d: Draft) -> None:
        d.layers["power"] = []

    assert told(changed(none)) == [("power-missing", "stop", ())]


def test_without_tape_there_is_no_avalanche() -> None:
    def none(d: Draft) -> None:
        del d.layers["tape"]

    assert rules_of(none) == ["layer-missing"]


def test_without_lights() -> None:
    def none(d: Draft) -> None:
        del d.layers["lights"]

    rows = changed(none)
    assert told([row for row in rows if row["severity"] == "stop"]) == [
        ("layer-missing", "stop", ())
    ]
    assert {row["rule"] for row in rows} <= {"layer-missing", "strip-spare", "tape-shows"}


def test_without_a_panel_windows_are_not_judged() -> None:
    def none(d: Draft) -> None:
        del d.layers["die-cut"]

    assert changed(none) == []


def test_without_a_base_the_panel_carries_it() -> None:
    def none(d: Draft) -> None:
        del d.layers["base"]
        d.layers["tape"][1] = minus(d.sheet, ((15, 48), (58, 48), (58, 152)))

    assert told(changed(none)) == [("off-base", "stop", ("minus",))]


def test_two_panels_each_with_its_own_windows() -> None:
    """The second panel lies beside the first, with a window that no light needs."""
    draft = clean(card=(225.0, 148.0))
    s = draft.sheet
    draft.layers["die-cut"] += [
        s.rect((120, 0, 80, 100), CUT, id="second"),
        s.rect((130, 10, 10, 10), CUT, id="porthole"),
        s.circle(170, 30, 8, CUT, id="ring"),
        s.circle(170, 30, 4, CUT, id="middle"),
    ]
    result = validated(text_of(draft)).report
    rows = result["findings"]
    assert isinstance(rows, list)
    assert told([row for row in rows if row["rule"] != "coin-cell"]) == [
        ("loose-piece", "caution", ("middle",))
    ]
    assert isinstance(result["card"], dict)
    assert len(result["card"]["openings"]) == 5


def test_a_hidden_strip_does_not_count() -> None:
    """Without the hidden minus rail the lights have no way home."""

    def hide(d: Draft) -> None:
        d.layers["tape"][1] = d.layers["tape"][1].replace('style="', 'style="display:none;')

    rows = changed(hide)
    assert {row["rule"] for row in rows} == {"light-unfed", "object-skipped"}
    assert [row["severity"] for row in rows if row["rule"] == "object-skipped"] == ["note"]


def test_a_hidden_layer_still_counts() -> None:
    draft = clean()
    text = text_of(draft).replace(
        'inkscape:label="Tape"', 'inkscape:label="Tape" style="display:none"'
    )
    assert "display:none" in text
    assert findings(text) == []


def test_a_sketched_strip_is_no_tape() -> None:
    def sketch(d: Draft) -> None:
        d.layers["tape"][1] = minus(d.sheet).replace("stroke-width:5", "stroke-width:0.5")

    assert set(rules_of(sketch)) == {"light-unfed", "sketch-line"}


def test_tape_whose_corners_overlap_has_joints_and_no_folds() -> None:
    draft = clean({"tape": {"corners": "overlap"}})
    report = validated(text_of(draft)).report
    assert report["verdict"] == "ready"
    tape = report["tape"]
    assert isinstance(tape, dict)
    assert (tape["strips"], tape["joints"], tape["folds"]) == (4, 2, 0)
    folded = validated(text_of(clean())).report["tape"]
    assert isinstance(folded, dict)
    assert (folded["strips"], folded["joints"], folded["folds"]) == (2, 0, 2)


def test_plain_foil_with_corners_that_overlap_does_not_conduct_round_them() -> None:
    draft = clean({"tape": {"use": "foil-5-plain", "corners": "overlap"}})
    rows = findings(text_of(draft))
    assert {row["rule"] for row in rows} == {"light-unfed", "joint-not-conducting"}
    assert sum(row["rule"] == "joint-not-conducting" for row in rows) == 2


def test_a_stray_circle_of_settings_reaches_the_rules() -> None:
    draft = clean({"limits": {"edge-margin": 40.0}})
    assert {row["rule"] for row in findings(text_of(draft))} == {"edge-too-near"}


@pytest.mark.parametrize(("order", "rules"), [("under", ["polarities-touch"]), ("between", [])])
def test_a_patch_counts_by_the_order_of_drawing(order: str, rules: list[str]) -> None:
    """Minus crosses the plus lead at (88, 70) over a piece of paper."""

    def cross(d: Draft) -> None:
        s = d.sheet
        paper = s.rect((80, 62, 16, 16), PATCH, id="paper", underlit__part="patch")
        over = strip(s, "over", ((55.5, 70), (98, 70)), "negative")
        laid = [plus(s), minus(s)]
        d.layers["tape"] = [paper, *laid, over] if order == "under" else [*laid, paper, over]

    assert [r for r in rules_of(cross) if r != "strip-spare"] == rules


def test_two_batteries_on_separate_circuits() -> None:
    """The second battery feeds nothing: it is named once."""

    def second(d: Draft) -> None:
        s = d.sheet
        d.layers["power"].append(
            holder(s, s.move(30, 110), closes="press").replace('"battery"', '"other"')
        )

    assert told(changed(second)) == [("cells-in-parallel", "caution", ("battery", "other"))]


def test_lights_of_unknown_ids_are_named_by_layer_and_number() -> None:
    def anonymous(d: Draft) -> None:
        turned = lamp(d.sheet, 2, SPOTS[1], 90.0).replace(' id="light-2"', "")
        d.layers["lights"][1] = turned

    rows = changed(anonymous)
    assert [row["rule"] for row in rows] == ["light-reversed"]
    assert rows[0]["objects"] == ["Lights 2"]


def test_the_order_of_findings() -> None:
    """Stops before cautions before notes; tables' order; then top to bottom."""

    def many(d: Draft) -> None:
        s = d.sheet
        d.layers["lights"][1] = lamp(s, 2, SPOTS[1], 90.0)
        d.layers["lights"][0] = lamp(s, 1, SPOTS[0], 90.0)
        d.layers["die-cut"].append(s.circle(58, 80, 3, CUT, id="moon"))
        d.layers["die-cut"].append(s.circle(58, 70, 3, CUT, id="moon-2"))
        d.layers["tape"].append(strip(s, "lost", ((20, 80), (45, 80))))
        d.layers["tape"][1] = minus(s, ((15, 48), (58, 48), (58, 152)))

    rows = changed(many)
    assert [(row["rule"], row["severity"]) for row in rows] == [
        ("light-reversed", "stop"),
        ("light-reversed", "stop"),
        ("off-base", "stop"),
        ("tape-shows", "caution"),
        ("tape-shows", "caution"),
        ("strip-floating", "note"),
    ]
    assert rows[0]["objects"] == ["light-1"]
    assert at(rows[3])[1] < at(rows[4])[1]


def accepted(change: Callable[[Draft], object]) -> tuple[list[str], list[str]]:
    draft = clean()
    change(draft)
    report = validated(text_of(draft)).report
    stand, aside = report["findings"], report["accepted"]
    assert isinstance(stand, list)
    assert isinstance(aside, list)
    return [r["rule"] for r in stand if r["rule"] != "coin-cell"], [r["rule"] for r in aside]


def test_an_accepted_finding_moves_and_the_card_is_ready() -> None:
    def over_the_edge(d: Draft) -> None:
        way = ((15, 48), (58, 48), (58, 145.5))
        d.layers["tape"][1] = strip(
            d.sheet, "minus", way, "negative", underlit__accept="edge-too-near light-dim"
        )

    assert accepted(over_the_edge) == ([], ["edge-too-near"])


def test_what_is_never_accepted() -> None:
    def reversed_(d: Draft) -> None:
        text = lamp(d.sheet, 2, SPOTS[1], 90.0)
        d.layers["lights"][1] = text.replace(
            'id="light-2"', 'id="light-2" underlit:accept="light-reversed"'
        )

    assert accepted(reversed_) == (["light-reversed"], [])
