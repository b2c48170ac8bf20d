from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

import pytest

from rules.cards import (
    SPOTS,
    bench,
    case,
    codes,
    holder,
    judge,
    light,
    near,
    opening,
    rails,
    strip,
    with_light,
    with_limits,
    with_tape,
)
from underlit.model.card import Card
from underlit.model.finding import Finding, told_once
from underlit.model.operation import MINUTE, LightFlow
from underlit.rules.amps import ma


def _all(findings: list[Finding]) -> str:
    return " ".join(f.remedy for f in findings)


def flows(card: Card) -> Mapping[str, LightFlow]:
    operation = case(card).operation
    assert operation is not None
    return operation.lights


def least() -> float:
    return min(flow.amps[MINUTE] for flow in flows(bench()).values())


@pytest.mark.parametrize(("share", "found"), [(0.99, 0), (1.0, 0), (1.0001, 1)])
def test_below_at_and_above_the_limit(share: float, found: int) -> None:
    rules = codes(judge(bench(), with_limits(light_smallest_ma=1e3 * least() * share)))
    assert rules == [("light-dim", "caution")] * found


def test_a_blue_light_beside_a_red_one() -> None:
    """The red one takes nearly all; a resistor at it gives the blue one its share."""
    lights = (light("light-1", SPOTS[0], type="red"), light("light-2", SPOTS[1], type="blue"))
    card = bench(lights=lights, openings=tuple(opening(i, at) for i, at in enumerate(SPOTS, 1)))
    found = [f for f in judge(card) if f.rule == "light-dim"]
    assert [f.objects for f in found] == [("light-2",)]
    near(found[0], *SPOTS[1])
    assert "dark" in found[0].message
    assert "red light beside it needs less voltage" in found[0].message
    ohm = re.search(r"resistor of (\d+) ohms before light 1", _all(judge(card)))
    assert ohm is not None
    own = case(card).profile
    red = replace(own.lights["red"], resistor_ohm=float(ohm[1]))
    cured = judge(card, replace(own, lights={**own.lights, "red": red}))
    assert not {f.rule for f in cured} & {"light-dim", "current-too-high"}


def test_poor_tape_is_blamed_with_its_length() -> None:
    found = [f for f in judge(bench(), with_tape(ohms_per_square=20.0)) if f.rule == "light-dim"]
    assert found
    assert re.search(r"\d{2,} mm of tape lie before it", found[0].message)


def test_a_weak_battery_is_shared() -> None:
    """No thicker battery is enough for three; fewer lights are."""
    own = with_limits(light_smallest_ma=3.0)
    found = [f for f in judge(bench(), own) if f.rule == "light-dim"]
    assert len(found) == 3
    assert "3 lights share the battery" in found[0].message
    assert found[0].remedy.startswith("Take lights 1 and 2 out; the other light then gets about ")
    assert all(f.remedy.startswith("What is named at light 1 helps here too") for f in found[1:])
    left = (light("light-3", SPOTS[2]),)
    assert "light-dim" not in {f.rule for f in judge(bench(lights=left), own)}


def test_a_resistor_inside_the_light_is_blamed_not_its_neighbours() -> None:
    own = with_light(resistor_ohm=20_000.0)
    found = [f for f in judge(bench(), own) if f.rule == "light-dim"]
    assert len(found) == 3
    assert all("its own resistor of 20000 ohms" in f.message for f in found)


def test_a_resistor_inside_that_takes_more_than_the_battery_does_is_blamed() -> None:
    own = with_light(resistor_ohm=1000.0)
    found = [f for f in judge(bench(), own) if f.rule == "light-dim"]
    assert len(found) == 3
    assert all("its own resistor of 1000 ohms" in f.message for f in found)


def test_batteries_in_a_row_are_one_fault() -> None:
    """With that contact open nothing flows; the tape is to blame, not what the battery gives."""
    middle = strip("middle", ((42, 60), (63, 60)))
    minus = strip("minus", ((60, 28), (15, 28), (15, 62.5)))
    cells = (holder(), holder("second", (30, 60)))
    found = codes(judge(bench(strips=[rails()[0], middle, minus], cells=cells)))
    assert ("polarities-touch", "stop") in found
    assert "light-dim" not in {code for code, _ in found}


def test_lights_without_a_way_are_not_called_dim() -> None:
    card = bench(lights=(light("light-1", SPOTS[0], 90.0), light("light-2", (75, 70))))
    assert "light-dim" not in {f.rule for f in judge(card)}


def test_lights_that_share_a_battery_are_told_in_one() -> None:
    """The one sentence has all their currents, and the cure that is said at the first."""
    found = [f for f in judge(bench(), with_limits(light_smallest_ma=3.0)) if f.rule == "light-dim"]
    (told,) = [finding for _, finding in told_once(found)]
    assert told.message.startswith("Lights 1, 2 and 3 will be faint: 3 lights share the battery (")
    assert told.remedy == found[0].remedy
    amps = [ma(flow.amps[MINUTE]) for flow in flows(bench()).values()]
    assert f"({min(amps)}" in told.message
    assert max(amps) in told.message
    # one that its maker accepts is missing: each is told for itself again
    assert [f.message for _, f in told_once(found[1:])] == [f.message for f in found[1:]]


def test_a_light_that_is_faint_for_a_reason_of_its_own_is_told_alone() -> None:
    own = with_light(resistor_ohm=1000.0)
    found = [f for f in judge(bench(), own) if f.rule == "light-dim"]
    assert [f for _, f in told_once(found)] == found
