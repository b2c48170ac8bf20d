from __future__ import annotations

from dataclasses import replace

from rules.cards import NOTHING, bench, codes, holder, judge, only, two_feet
from underlit.model.card import Incomplete


def test_no_battery_is_one_stop_without_a_place() -> None:
    finding = only(bench(cells=()), "power-missing", "stop")
    assert finding.at is None
    assert finding.objects == ()


def test_a_battery_is_enough() -> None:
    assert judge(bench(cells=(holder(),))) == []


def test_a_switch_is_no_battery() -> None:
    lone = two_feet("switch", "s", (40, 65), closes="slide")
    assert codes(judge(bench(cells=(), switches=(lone,)))) == [("power-missing", "stop")]


def test_half_a_battery_is_said_once() -> None:
    half = Incomplete("battery", "cell", (75, 60), ("negative-pad",))
    facts = replace(NOTHING, incomplete=(half,))
    assert codes(judge(bench(cells=()), facts=facts)) == [("part-incomplete", "stop")]


def test_without_a_power_layer_the_layer_is_what_is_missing() -> None:
    layers = tuple(layer for layer in NOTHING.layers if layer.role != "power")
    facts = replace(NOTHING, layers=layers, used=NOTHING.used - {"power"})
    assert codes(judge(bench(cells=()), facts=facts)) == [("layer-missing", "stop")]
