from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import MultiPolygon

from rules.cards import NOTHING, bench, card, codes, judge, only
from underlit.model.card import Incomplete
from underlit.model.case import Facts
from underlit.model.drawing import Layer, Remark


def without(role: str, *odd: str) -> Facts:
    """Nothing of one role; layers of other names stand about."""
    layers = [layer for layer in NOTHING.layers if layer.role != role]
    layers += [Layer(None, label, f"layer-{i}", False) for i, label in enumerate(odd)]
    return replace(NOTHING, layers=tuple(layers), used=NOTHING.used - {role})


@pytest.mark.parametrize(
    ("role", "changes", "word"),
    [
        ("lights", {"lights": (), "openings": ()}, "lights"),
        ("power", {"cells": ()}, "battery"),
        ("tape", {"strips": []}, "tape"),
    ],
)
def test_each_role_that_validating_needs(role: str, changes: dict[str, object], word: str) -> None:
    finding = only(bench(**changes), "layer-missing", "stop", facts=without(role))  # type: ignore[arg-type]
    assert finding.at is None
    assert word in finding.message


def test_panel_or_back_sheet_is_enough() -> None:
    assert judge(bench(base_drawn=False), facts=without("base")) == []
    assert judge(bench(panels=(), openings=()), facts=without("die-cut")) == []
    nothing = bench(panels=(), openings=(), base=MultiPolygon(), base_drawn=False)
    finding = only(nothing, "layer-missing", "stop", facts=without("base"))
    assert "Die cut" in finding.message


def test_a_part_on_another_layer_is_there_all_the_same() -> None:
    assert judge(bench(), facts=without("power")) == []
    assert judge(bench(), facts=without("lights")) == []


@pytest.mark.parametrize("label", ["Tapes", "tape ", "Tpae", "Tape 1"])
def test_a_near_miss_is_named(label: str) -> None:
    finding = only(
        bench(strips=[]), "layer-missing", "stop", facts=without("tape", label, "Sketch")
    )
    assert label.strip() in finding.message
    assert "Tape" in finding.remedy


def test_a_far_miss_is_not() -> None:
    finding = only(bench(strips=[]), "layer-missing", "stop", facts=without("tape", "Birds"))
    assert "Birds" not in finding.message


def test_an_empty_drawing_has_four_and_nothing_else() -> None:
    nothing = replace(NOTHING, layers=(), used=frozenset())
    assert codes(judge(card(), facts=nothing)) == [("layer-missing", "stop")] * 4


def test_a_layer_on_which_nothing_is_what_it_should_be() -> None:
    """Only thin lines on Tape, only decoration on Lights."""
    finding = only(bench(strips=[]), "layer-missing", "stop")
    assert "Nothing on the Tape layer is tape" in finding.message
    finding = only(bench(lights=(), openings=()), "layer-missing", "stop")
    assert "Lights layer" in finding.message


def test_what_is_named_already_is_not_said_twice() -> None:
    torn = Remark("unreadable", "torn", True, "tape", None, False, "")
    found = judge(bench(strips=[]), facts=replace(NOTHING, remarks=(torn,)))
    assert codes(found) == [("object-skipped", "stop")]
    flat = Remark("flat", "layer", True, "lights", None, False, "")
    found = judge(bench(lights=(), openings=()), facts=replace(NOTHING, remarks=(flat,)))
    assert codes(found) == [("layer-missing", "stop"), ("object-skipped", "caution")]
    half = Incomplete("l", "light", None, ("lens",))
    found = judge(bench(lights=(), openings=()), facts=replace(NOTHING, incomplete=(half,)))
    assert codes(found) == [("part-incomplete", "stop")]


def test_a_layer_without_anything_on_it() -> None:
    facts = replace(NOTHING, used=NOTHING.used - {"tape"})
    finding = only(bench(strips=[]), "layer-missing", "stop", facts=facts)
    assert finding.message == "There is no tape yet."
    assert finding.remedy == "Next: step 4, lay the tape."
