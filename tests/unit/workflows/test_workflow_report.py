"""The report of a card: keys, order, figures."""

from __future__ import annotations

import json

import pytest
from shapely.geometry import box

from rules.cards import SPOTS, bench, card, case, light, opening, strip
from underlit.model.card import Card
from underlit.rules import check_all
from underlit.workflows.report import build_report


def report(of: Card) -> dict:  # type: ignore[type-arg]
    ready = case(of)
    found = check_all(ready)
    result = build_report("validate", "lantern.svg", ready, found, (), "ready")
    json.dumps(result, allow_nan=False)
    return result


def test_keys_stand_in_the_order_of_the_conventions() -> None:
    result = report(bench())
    assert list(result) == [
        "underlit", "schema", "action", "drawing", "profile", "verdict",
        "findings", "accepted", "card", "nets", "lights", "cells", "tape",
    ]  # fmt: skip
    assert result["schema"] == 1
    assert result["action"] == "validate"
    assert result["drawing"] == "lantern.svg"
    assert result["profile"] == "hand-laid"
    assert list(result["findings"][0]) == ["rule", "severity", "at", "objects", "message", "remedy"]
    assert list(result["nets"][0]) == ["polarity", "strips", "pads", "length", "area"]
    assert list(result["lights"][0]) == [
        "id", "at", "angle", "opening", "lit", "current_ma", "current_minute_ma",
        "current_aged_ma", "relative_brightness",
    ]  # fmt: skip
    assert list(result["tape"]) == [
        "strips", "length", "folds", "joints", "joints_to_worst_light", "smallest_gap",
    ]  # fmt: skip


def test_panel_and_openings() -> None:
    result = report(bench())["card"]
    assert result["panel"] == [100.0, 80.0]
    assert result["openings"][1] == {
        "number": 2,
        "name": "window-2",
        "at": [35.0, pytest.approx(24.0, abs=0.1)],
        "area": pytest.approx(50.2, abs=0.1),
    }


def test_nets_carry_strips_feet_length_and_area() -> None:
    plus, minus = report(bench())["nets"]
    assert (plus["polarity"], minus["polarity"]) == ("positive", "negative")
    assert plus["strips"] == ["plus"]
    assert plus["pads"] == [
        ["light-1", "positive-pad"],
        ["light-2", "positive-pad"],
        ["light-3", "positive-pad"],
        ["battery", "positive-pad"],
    ]
    assert plus["length"] == 122.5
    assert plus["area"] == pytest.approx(122.5 * 5)
    assert minus["length"] == 84.5


def test_a_net_s_area_counts_overlaps_once() -> None:
    left = strip("left", ((10, 28), (42, 28)), polarity="negative")
    right = strip("right", ((37, 28), (60, 28), (60, 62.5)), polarity="negative")
    nets = report(bench(strips=[bench().strips[0], left, right]))["nets"]
    assert nets[1]["area"] == pytest.approx(84.5 * 5)
    assert nets[1]["length"] == pytest.approx(89.5)


def test_a_shorted_net_is_reported_as_drawn() -> None:
    bridge = strip("bridge", ((28, 20), (28, 30.5)))
    assert [net["polarity"] for net in report(bench(bridge))["nets"]] == ["both"]


@pytest.mark.parametrize(
    ("angle", "told"), [(-90.0, 270.0), (0.0, 0.0), (30.0, 30.0), (180.0, 180.0)]
)
def test_angles_run_clockwise_from_minus_to_plus(angle: float, told: float) -> None:
    lamp = light("lamp", (35, 24), angle)
    assert report(bench(lights=(lamp,)))["lights"][0]["angle"] == pytest.approx(told)


def test_lights_know_their_window_and_whether_they_are_lit() -> None:
    lights = (light("a", SPOTS[0]), light("b", SPOTS[1], 90.0), light("c", (10, 70)))
    rows = report(bench(lights=lights))["lights"]
    assert [row["opening"] for row in rows] == ["window-1", "window-2", None]
    assert [row["lit"] for row in rows] == [True, False, False]


CURRENTS = ("current_ma", "current_minute_ma", "current_aged_ma")


def test_currents_of_lights_and_battery() -> None:
    result = report(bench())
    for state in CURRENTS:
        total = sum(row[state] for row in result["lights"])
        assert result["cells"][0][state] == pytest.approx(total, abs=1e-3)
    first, second, third = (result["lights"][0][state] for state in CURRENTS)
    assert first > second > third > 0.5
    assert max(row["relative_brightness"] for row in result["lights"]) == 1.0
    low, high = result["cells"][0]["hours"]
    assert 0.0 < low < high


def test_what_cannot_be_computed_is_null() -> None:
    """A light of unknown type, and any light without a battery."""
    odd = light("odd", SPOTS[0], type="no such light")
    for of in (bench(lights=(odd,)), bench(cells=())):
        row = report(of)["lights"][0]
        assert [row[state] for state in CURRENTS] == [None] * 3
        assert row["relative_brightness"] is None


def test_a_light_that_is_robbed_is_not_lit() -> None:
    """Below 0.05 mA at the moment of pressing, though the way is closed."""
    lights = (light("a", SPOTS[0], type="red"), light("b", SPOTS[1], type="blue"))
    rows = report(bench(lights=lights))["lights"]
    assert [row["lit"] for row in rows] == [True, False]
    assert rows[1]["current_ma"] < 0.05


def test_under_a_short_the_currents_are_as_drawn() -> None:
    bridge = strip("bridge", ((28, 20), (28, 33)), polarity="positive")
    result = report(bench(bridge))
    assert not any(row["lit"] for row in result["lights"])
    assert result["cells"][0]["current_ma"] > 100.0


def test_of_two_windows_over_a_light_the_smaller_counts() -> None:
    wide = opening(9, SPOTS[0], 12.0)
    assert report(bench(openings=(wide, *bench().openings)))["lights"][0]["opening"] == "window-1"


def test_tape_figures() -> None:
    tape = report(bench())["tape"]
    assert tape == {
        "strips": 2, "length": 207.0, "folds": 2, "joints": 0,
        "joints_to_worst_light": 0, "smallest_gap": 3.0,
    }  # fmt: skip
    left = strip("left", ((10, 28), (42, 28)), polarity="negative")
    right = strip("right", ((37, 28), (60, 28), (60, 62.5)), polarity="negative")
    tape = report(bench(strips=[bench().strips[0], left, right]))["tape"]
    assert (tape["joints"], tape["joints_to_worst_light"]) == (1, 1)


def test_an_empty_card() -> None:
    result = report(card())
    assert result["card"] == {"panel": [0.0, 0.0], "openings": []}
    assert result["nets"] == result["lights"] == result["cells"] == []
    assert result["tape"]["smallest_gap"] is None


def test_without_a_panel_the_base_gives_the_size() -> None:
    assert report(card(base=box(5, 5, 45, 35), base_drawn=True))["card"]["panel"] == [40.0, 30.0]
