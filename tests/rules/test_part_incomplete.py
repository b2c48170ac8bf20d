from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rules.cards import (
    NOTHING,
    bench,
    holder,
    judge,
    light,
    near,
    only,
    part,
    rails,
    strip,
    two_feet,
)
from underlit.model.card import Incomplete
from underlit.model.drawing import Contour, Shape


def test_a_missing_foot_is_named_in_words() -> None:
    half = Incomplete("light-9", "light", (20, 24), ("positive-pad",))
    finding = only(bench(), "part-incomplete", "stop", facts=replace(NOTHING, incomplete=(half,)))
    near(finding, 20, 24)
    assert finding.objects == ("light-9",)
    assert "plus foot" in finding.message


def test_an_unknown_kind_of_part() -> None:
    odd = Incomplete("x", "buzzer", None, ())
    finding = only(bench(), "part-incomplete", "stop", facts=replace(NOTHING, incomplete=(odd,)))
    assert "buzzer" in finding.message
    assert "light" in finding.remedy


def stray(feature: str, x: float, index: int) -> Shape:
    points = np.array([(x, 0.0), (x + 3, 0.0), (x + 3, 3.0), (x, 3.0)])
    contour = Contour(points, np.zeros(4), True)
    return Shape(
        f"s{index}", True, index, "lights", "rect", (contour,), True, "nonzero", None, None, {},
        None, feature,
    )  # fmt: skip


def test_features_outside_a_part_are_one_finding_per_run() -> None:
    run = (stray("positive-pad", 0, 1), stray("negative-pad", 8, 2), stray("lens", 4, 3))
    finding = only(bench(), "part-incomplete", "stop", facts=replace(NOTHING, strays=(run,)))
    near(finding, 5.5, 1.5)
    assert finding.objects == ("s1", "s2", "s3")
    assert "outside any part" in finding.message


@pytest.mark.parametrize(
    "values",
    [
        {"lights": (light("l", (20, 24), type="ultraviolet"), *bench().lights[1:])},
        {"lights": (light("l", (20, 24), type=""), *bench().lights[1:])},
        {"cells": (part("cell", "c", dict(holder().features), "lr44", closes="press"),)},
        {"cells": (part("cell", "c", dict(holder().features), "", closes="press"),)},
    ],
)
def test_an_unknown_type(values: dict[str, object]) -> None:
    finding = only(bench(**values), "part-incomplete", "stop")  # type: ignore[arg-type]
    assert "type" in finding.message


@pytest.mark.parametrize(
    ("ohms", "good"),
    [
        ("100", True),
        ("0.5", True),
        ("0", False),
        ("", False),
        ("many", False),
        ("nan", False),
        ("inf", False),
    ],
)
def test_a_resistor_says_its_ohms(ohms: str, good: bool) -> None:
    of = bench(resistors=(two_feet("resistor", "r", (35, 70), ohms=ohms),))
    assert [f.rule for f in judge(of)] == ([] if good else ["part-incomplete"])


@pytest.mark.parametrize("ohms", ["", "-5", "0", "1k", "4,7", "100 ohm"])
def test_nothing_is_said_of_currents_where_a_resistor_cannot_be_read(ohms: str) -> None:
    """It stands in the way of every light: no light is told to lack volts on top."""
    rail = strip("rail", ((10, 28), (60, 28), (60, 37)), polarity="negative")
    lead = strip("lead", ((60, 43), (60, 62.5)), polarity="negative")
    link = two_feet("resistor", "r", (60, 40), 90.0, ohms=ohms)
    plus, _ = rails()
    of = bench(strips=[plus, rail, lead], resistors=(link,))
    found = judge(of)
    assert [f.rule for f in found] == ["part-incomplete"]
    assert "Resistor r" in found[0].message
    assert ohms in found[0].message
    assert "4.7" in found[0].remedy
    good = bench(strips=[plus, rail, lead], resistors=(two_feet("resistor", "r", (60, 40), 90.0),))
    assert "part-incomplete" in [f.rule for f in judge(good)]
