from __future__ import annotations

import pytest

from rules.cards import (
    SPOTS,
    bench,
    codes,
    judge,
    light,
    near,
    opening,
    strip,
    with_cell,
    with_light,
)


def in_a_row(kind: str = "warm-white"):  # type: ignore[no-untyped-def]
    """Two lights one after the other between the leads at x 90 and x 60."""
    middle = strip("middle", ((66, 45), (84, 45)))
    places = (opening(1, SPOTS[0]), opening(2, (86, 45)), opening(3, (64, 45)))
    row = (light("row-1", (86, 45), 0.0, kind), light("row-2", (64, 45), 0.0, kind))
    return bench(middle, lights=(light("light-1", SPOTS[0]), *row), openings=places)


def test_two_in_a_row() -> None:
    found = [f for f in judge(in_a_row()) if f.rule == "voltage-too-low"]
    assert [f.objects for f in found] == [("row-2",), ("row-1",)]
    near(found[0], 64, 45)
    assert "in a row with light 2" in found[0].message
    assert found[0].remedy.startswith("Put lights 2 and 3 side by side")


def test_neither_is_also_called_dim_or_uneven() -> None:
    rules = {f.rule for f in judge(in_a_row())}
    assert not rules & {"light-dim", "uneven-lights"}


@pytest.mark.parametrize(("volt", "found"), [(4.4, True), (4.8, False)])
def test_two_in_a_row_on_more_voltage(volt: float, found: bool) -> None:
    """Two times 2.3 volts pass 0.05 mA through two white lights."""
    rules = {f.rule for f in judge(in_a_row(), with_cell(volt=volt))}
    assert ("voltage-too-low" in rules) == found


@pytest.mark.parametrize(("least", "found"), [(2.99, 0), (3.01, 3)])
def test_a_chip_that_needs_more_than_the_battery_has(least: float, found: int) -> None:
    """Three volts are there only without any current: 2.99 is then `light-dim` instead."""
    rules = codes(judge(bench(), with_light(least_volt=least)))
    assert rules.count(("voltage-too-low", "stop")) == found
    assert rules.count(("light-dim", "caution")) == 3 - found


def test_a_robbed_light_is_another_matter() -> None:
    lights = (light("light-1", SPOTS[0], type="red"), light("light-2", SPOTS[1], type="blue"))
    assert "voltage-too-low" not in {f.rule for f in judge(bench(lights=lights))}


def test_red_lights_taken_out_of_a_row_get_a_resistor_beside_a_white_one() -> None:
    """Side by side alone they would take all from the white light."""
    found = [f for f in judge(in_a_row("red")) if f.rule == "voltage-too-low"]
    assert found[0].remedy.startswith("Put lights 2 and 3 side by side")
    assert "ohms before each red light; these lights then get about" in found[0].remedy
