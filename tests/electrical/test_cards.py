"""Currents of whole cards: wiring, states, what-ifs, shorts, switches, bad input."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import box

from rules import cards
from rules.cards import SPOTS, bench, case, holder, light, strip, two_feet, with_cell, with_light
from underlit.electrical.life import usable_share
from underlit.electrical.wiring import JOINT, PAD, SOLDERED, wire
from underlit.model.card import Card, ohms_of
from underlit.model.operation import AGED, MINUTE, PRESSED, Change, Operation
from underlit.profiles import Profile


def operation(of: Card, own: Profile | None = None, change: Change | None = None) -> Operation:
    supply = case(of, own).supply
    assert supply is not None
    return supply.operate(change or Change())


def by_hand(light_at: tuple[float, float], cell_ohm: float) -> float:
    """One white light on the bench by counting squares: a sum in series, solved by bisection."""
    x = light_at[0]
    plus = ((90 - x) - 5 + (60 - 20)) / 5 + 0.5587
    minus = ((60 - x) - 5 + (60 - 28)) / 5 + 0.5587
    low, high = 0.0, 0.1
    ohms = cell_ohm + (plus + minus) * 0.05 + 26.25
    for _ in range(80):
        amps = (low + high) / 2
        volt = amps * ohms + 3 * 25.6926e-3 * np.log(amps / 4.628e-18 + 1)
        low, high = (amps, high) if volt < 3.0 else (low, amps)
    return low


# ---- currents ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("state", "ohm"), [(PRESSED, 15.0), (MINUTE, 60.0), (AGED, 100.0)])
def test_one_light_counted_by_hand(state: int, ohm: float) -> None:
    """Feet without resistance; the rest are squares: within what the feet's own length is."""
    own = cards.with_tape(pad_ohm_mm2=0.0, pad_aged_ohm_mm2=0.0)
    one = bench(lights=(light("light-1", SPOTS[0]),))
    found = operation(one, own).lights["light-1"].amps[state]
    assert found == pytest.approx(by_hand(SPOTS[0], ohm), rel=3e-3)


def test_states_fall_and_add_up() -> None:
    found = operation(bench())
    for state in (PRESSED, MINUTE, AGED):
        total = sum(flow.amps[state] for flow in found.lights.values())
        assert found.cells["battery"].amps[state] == pytest.approx(total, rel=1e-9)
    for flow in found.lights.values():
        assert flow.amps[PRESSED] > flow.amps[MINUTE] > flow.amps[AGED] > 0.0
        low, high = found.band([flow.id])[flow.id]
        assert low < flow.amps[MINUTE] < high
    assert found.band(found.lights).keys() == found.lights.keys()
    assert max(flow.brightness for flow in found.lights.values()) == 1.0
    low, high = found.cells["battery"].hours
    assert 0.0 < low < high


def test_the_nearer_light_is_the_brighter() -> None:
    amps = [flow.amps[MINUTE] for flow in operation(bench()).lights.values()]
    assert amps == sorted(amps)


@pytest.mark.parametrize(
    "worse",
    [
        {"ohms_per_square": 1.0},
        {"pad_ohm_mm2": 200.0, "pad_aged_ohm_mm2": 200.0},
        {"joint_ohm_mm2": 500.0, "joint_aged_ohm_mm2": 900.0},
    ],
)
def test_worse_tape_brightens_nothing(worse: dict[str, float]) -> None:
    rails = [
        strip("far", ((10, 20), (70, 20))),
        strip("near", ((65, 20), (90, 20), (90, 62.5))),
        cards.rails()[1],
    ]
    card = bench(strips=rails)
    good, bad = operation(card), operation(card, cards.with_tape(**worse))
    for name, flow in bad.lights.items():
        for state in (PRESSED, MINUTE, AGED):
            assert flow.amps[state] < good.lights[name].amps[state]


def test_only_the_aged_state_knows_aged_overlaps() -> None:
    rails = [
        strip("far", ((10, 20), (70, 20))),
        strip("near", ((65, 20), (90, 20), (90, 62.5))),
        cards.rails()[1],
    ]
    kept, aged = (
        operation(bench(strips=rails), cards.with_tape(joint_aged_ohm_mm2=ohm)).lights["light-1"]
        for ohm in (2.0, 250.0)
    )
    assert kept.amps[:AGED] == aged.amps[:AGED]
    assert aged.amps[AGED] < 0.95 * kept.amps[AGED]


def test_feet_age_too() -> None:
    """All four feet of a card with one light lie in one row: their resistances add up."""
    one = bench(lights=(light("light-1", SPOTS[0]),))
    kept, aged = (
        operation(one, cards.with_tape(pad_aged_ohm_mm2=ohm)).lights["light-1"]
        for ohm in (2.0, 40.0)
    )
    assert kept.amps[:AGED] == aged.amps[:AGED]
    areas = wire(case(one).circuit).area
    more = float((38.0 / areas).sum())
    put = operation(
        one, cards.with_tape(pad_aged_ohm_mm2=2.0), Change(resistors={"light-1": more})
    ).lights["light-1"]
    assert aged.amps[AGED] == pytest.approx(put.amps[AGED], rel=1e-9)


def test_a_soldered_overlap_does_not_age() -> None:
    def rails(joint: str | None):  # type: ignore[no-untyped-def]
        far = strip("far", ((10, 20), (70, 20)), joint=joint)
        return [far, strip("near", ((65, 20), (90, 20), (90, 62.5))), cards.rails()[1]]

    own = cards.with_tape(joint_aged_ohm_mm2=250.0)
    plain, soldered = (
        operation(bench(strips=rails(joint)), own).lights["light-1"].amps[AGED]
        for joint in (None, "soldered")
    )
    assert soldered > 1.05 * plain


def test_a_filled_rail_conducts_as_a_stroked_one() -> None:
    filled = [
        cards.cut("plus", cards.rails()[0].geometry, "positive"),
        cards.cut("minus", cards.rails()[1].geometry, "negative"),
    ]
    stroked, cut = operation(bench()), operation(bench(strips=filled))
    for name, flow in cut.lights.items():
        assert flow.amps[PRESSED] == pytest.approx(stroked.lights[name].amps[PRESSED], rel=1e-3)


def test_filled_rectangles_are_straight_runs() -> None:
    stroke = strip("rail", ((10, 20), (90, 20)))
    lead = strip("lead", ((90, 17.5), (90, 62.5)))
    both = [
        operation(bench(strips=[rail, lead, cards.rails()[1]]))
        for rail in (stroke, cards.cut("rail", box(10, 17.5, 90, 22.5)))
    ]
    for name, flow in both[0].lights.items():
        assert flow.amps == pytest.approx(both[1].lights[name].amps, rel=1e-6)


# ---- parts -------------------------------------------------------------------------------------


def through(part: object, kind: str) -> Card:
    """The bench with a gap in its plus lead that a two-footed part bridges."""
    rails = [
        strip("plus", ((10, 20), (90, 20), (90, 30))),
        strip("lead", ((90, 36), (90, 62.5))),
        cards.rails()[1],
    ]
    return bench(strips=rails, **{kind: (part,)})


def test_a_switch_closes_and_opens() -> None:
    switch = two_feet("switch", "switch", (90, 33), 90.0, closes="slide")
    closed, released = (
        operation(through(switch, "switches"), change=Change(released=off)) for off in (False, True)
    )
    assert closed.lights["light-1"].amps[PRESSED] > 1e-3
    assert released.lights == {}


def test_what_always_burns_burns_released() -> None:
    card = bench(cells=(holder(closes="always"),))
    closed, released = (
        operation(card, change=Change(released=off)).lights["light-1"].amps for off in (False, True)
    )
    assert released == pytest.approx(closed)


@pytest.mark.parametrize(("ohms", "dark"), [("100", False), ("1e9", True)])
def test_resistors(ohms: str, dark: bool) -> None:
    part = two_feet("resistor", "r", (90, 33), 90.0, ohms=ohms)
    amps = operation(through(part, "resistors")).lights["light-1"].amps[PRESSED]
    plain = operation(bench()).lights["light-1"].amps[PRESSED]
    assert amps < 1e-8 if dark else 1e-4 < amps < 0.8 * plain


@pytest.mark.parametrize("ohms", ["", "-5", "inf", "4,7"])
def test_no_current_is_told_of_a_resistor_that_cannot_be_read(ohms: str) -> None:
    part = two_feet("resistor", "r", (90, 33), 90.0, ohms=ohms)
    assert case(through(part, "resistors")).supply is None
    assert ohms_of(part) is None


def test_a_resistor_built_in_and_one_put_before_are_the_same() -> None:
    built = operation(bench(), with_light(resistor_ohm=47.0))
    put = operation(bench(), change=Change(resistors={f"light-{i}": 47.0 for i in (1, 2, 3)}))
    for name, flow in built.lights.items():
        assert flow.amps == pytest.approx(put.lights[name].amps, rel=1e-9)


def test_a_chip_without_its_voltage_takes_nothing() -> None:
    found = operation(bench(), with_light(least_volt=2.7)).lights["light-1"]
    plain = operation(bench()).lights["light-1"]
    assert [v > 2.7 for v in plain.volts] == [True, False, False]
    assert found.runs == (True, False, False)
    assert found.amps[PRESSED] == plain.amps[PRESSED]
    assert found.amps[MINUTE] < 1e-9


def test_chips_fail_one_after_the_other() -> None:
    """The farthest first, which leaves more voltage to the rest; alike ones fail together."""
    own = with_light(least_volt=2.605)
    poor = replace(own, tape=replace(own.tape, ohms_per_square=1.0))
    flows = list(operation(bench(), poor).lights.values())
    left = operation(bench(), poor, Change(without=frozenset(("light-1",)))).lights["light-3"]
    assert [flow.runs[MINUTE] for flow in flows] == [False, True, True]
    assert flows[2].amps[MINUTE] == pytest.approx(left.amps[MINUTE], rel=1e-6)
    alike = operation(bench(), with_light(least_volt=2.65)).lights.values()
    assert {flow.runs[MINUTE] for flow in alike} == {False}


def test_unknown_types_are_left_out() -> None:
    lights = (light("light-1", SPOTS[0]), light("odd", SPOTS[1], type="no such light"))
    found = operation(bench(lights=lights))
    assert set(found.lights) == {"light-1"}
    cell = replace(holder(), type="no such battery")
    assert operation(bench(cells=(cell,))).cells == {}


def test_a_reversed_light_stays_dark_and_harms_nobody() -> None:
    lights = (light("light-1", SPOTS[0], 90.0), light("light-2", SPOTS[1]))
    found = operation(bench(lights=lights)).lights
    assert abs(found["light-1"].amps[PRESSED]) < 1e-9
    assert found["light-2"].amps[PRESSED] > 1e-3


# ---- shorts, what-ifs, ways --------------------------------------------------------------------


def test_a_short_is_open_for_the_rules_and_there_in_the_report() -> None:
    bridge = strip("bridge", ((28, 20), (28, 33)), polarity="positive")
    judged = case(bench(bridge))
    assert judged.circuit.shorts
    assert judged.operation is not None
    assert judged.drawn_operation is not None
    assert judged.operation.lights["light-3"].amps[PRESSED] > 1e-3
    assert judged.drawn_operation.lights["light-3"].amps[PRESSED] < 1e-4
    assert judged.drawn_operation.cells["battery"].amps[PRESSED] > 0.1
    assert not judged.lit


def test_a_weak_overlap_counts_as_mended_for_the_rules_alone() -> None:
    rails = [
        strip("far", ((10, 20), (69.9, 20))),
        strip("near", ((69.8, 20), (90, 20), (90, 62.5))),
        cards.rails()[1],
    ]
    judged = case(bench(strips=rails))
    assert judged.operation is not None
    assert judged.drawn_operation is not None
    mended, drawn = (
        o.lights["light-1"].amps[AGED] for o in (judged.operation, judged.drawn_operation)
    )
    assert drawn < 0.8 * mended


def test_hours_hold_fresh_and_aged_and_the_scatter_of_lights() -> None:
    """The band is that of the largest and of the smallest current that may flow, and 30 %."""
    plain = operation(bench()).cells["battery"]
    aged = operation(bench(), with_cell(aged_ohm=400.0)).cells["battery"]
    assert plain.hours is not None
    assert aged.hours is not None
    assert aged.hours[0] == plain.hours[0]
    kind, weakest = cards.profile().cells["cr2032"], aged.amps[AGED]
    longest = 1.3 * kind.capacity_mah * usable_share(kind, weakest) / (1e3 * weakest)
    assert aged.hours[1] == pytest.approx(longest)
    assert plain.hours[1] < longest
    assert plain.presses is not None
    assert plain.presses[0] < 360 * plain.hours[0]


def test_a_battery_that_lights_nothing_has_no_hours() -> None:
    dark = operation(bench(), with_light(resistor_ohm=1e8)).cells["battery"]
    assert (dark.hours, dark.presses) == (None, None)
    bridge = strip("bridge", ((20, 20), (20, 28)), polarity="positive")
    shorted = case(bench(bridge)).drawn_operation
    assert shorted is not None
    assert shorted.cells["battery"].hours is None
    assert {flow.brightness for flow in shorted.lights.values()} == {0.0}


def test_what_ifs_move_the_right_way() -> None:
    card = bench()
    plain = operation(card).lights["light-1"].amps[MINUTE]

    def then(**change: object) -> float:
        return operation(card, change=Change(**change)).lights["light-1"].amps[MINUTE]  # type: ignore[arg-type]

    assert then(tape=0.1) > plain
    assert then(cells="cr2450") > plain
    assert then(without=frozenset(("light-2",))) > plain
    assert then(resistors={"light-1": 100.0}) < plain
    assert then(stiff=True) > plain
    assert then(tape=0.0) <= then(stiff=True)


def test_the_way_to_a_light() -> None:
    rails = [
        strip("far", ((10, 20), (70, 20))),
        strip("near", ((65, 20), (90, 20), (90, 62.5))),
        cards.rails()[1],
    ]
    supply = case(bench(strips=rails)).supply
    assert supply is not None
    plus = supply.way("light-1", "positive-pad")
    minus = supply.way("light-1", "negative-pad")
    assert plus is not None
    assert minus is not None
    assert (plus.overlaps, minus.overlaps) == (1, 0)
    assert plus.length == pytest.approx(70 + 40, abs=3)
    assert minus.length == pytest.approx(40 + 32, abs=3)
    loose = case(bench(lights=(light("light-1", (75, 70)),))).supply
    assert loose is not None
    assert loose.way("light-1", "positive-pad") is None


def test_kinds_and_areas_of_contacts() -> None:
    rails = [
        strip("far", ((10, 20), (70, 20)), joint="soldered"),
        strip("near", ((65, 20), (90, 20), (90, 62.5))),
        cards.rails()[1],
    ]
    wiring = wire(case(bench(strips=rails)).circuit)
    kinds = wiring.kind.tolist()
    assert sorted(set(kinds)) == [PAD, SOLDERED]
    assert JOINT not in kinds
    assert wiring.area[kinds.index(SOLDERED)] == pytest.approx(25.0)
    assert wiring.square[kinds.index(SOLDERED)] == pytest.approx(25.0)


# ---- extremes ----------------------------------------------------------------------------------


@pytest.mark.parametrize("ohms", [0.0, 1e-9, 1000.0])
@pytest.mark.parametrize("joint", [0.0, 1e6])
def test_any_tape_converges(ohms: float, joint: float) -> None:
    own = cards.with_tape(ohms_per_square=ohms, joint_ohm_mm2=joint, joint_aged_ohm_mm2=joint)
    found = operation(bench(), own)
    assert found.residual < 1e-9
    assert all(flow.amps[PRESSED] >= 0.0 for flow in found.lights.values())


@pytest.mark.parametrize("ohm", [0.0, 1e4])
def test_any_battery_converges(ohm: float) -> None:
    own = with_cell(pulse_ohm=ohm, sustained_ohm=ohm, aged_ohm=ohm)
    assert operation(bench(), own).residual < 1e-9


def test_figures_are_the_same_every_time() -> None:
    first, second = operation(bench()), operation(bench())
    assert [f.amps for f in first.lights.values()] == [f.amps for f in second.lights.values()]


def test_messages_name_no_jargon() -> None:
    rows = cards.judge(bench(), cards.with_limits(light_smallest_ma=50.0))
    assert rows
    assert not any(re.search(r"\b(net|cell|pad|joint)s?\b", f.message + f.remedy) for f in rows)


FOLDED = ((10, 28), (60, 28), (12, 30), (60, 62.5))


@pytest.mark.parametrize(
    "strips",
    [
        [],
        [strip("lost", ((5, 70), (30, 70)))],
        [strip("plus", ((10, 20), (90, 20)))],
        [strip("minus", FOLDED)],
        [strip("plus", ((10, 20), (90, 20), (10, 21), (90, 62.5))), strip("minus", FOLDED)],
        [strip("dot", ((20, 20), (20.5, 20)), width=1.0)],
        [cards.cut("plate", box(0, 0, 100, 80))],
    ],
    ids=["no tape", "no contact", "one", "folded back", "all folded back", "a dot", "one plate"],
)
@pytest.mark.parametrize("parts", [{}, {"lights": ()}, {"cells": ()}])
def test_odd_cards_are_computed_all_the_same(strips, parts) -> None:  # type: ignore[no-untyped-def]
    found = operation(bench(strips=strips, **parts))
    assert found.residual < 1e-9
    for flow in found.lights.values():
        assert np.isfinite(flow.amps).all()


@pytest.mark.parametrize("seed", range(25))
def test_scribbled_cards_are_computed_all_the_same(seed: int) -> None:
    """Strips anywhere, of any kind, over each other; parts where they fall."""
    rng = np.random.default_rng(seed)

    def scribble(name: str):  # type: ignore[no-untyped-def]
        points = rng.uniform(0, 80, (int(rng.integers(2, 6)), 2)).tolist()
        stroke = strip(name, points, width=float(rng.choice([2.0, 5.0, 8.0])))
        area = stroke.geometry
        filled = rng.random() < 0.3 and area.geom_type == "Polygon"
        return cards.cut(name, area) if filled else stroke

    strips = [scribble(f"s{i}") for i in range(int(rng.integers(1, 9)))]
    spots = rng.uniform(5, 75, (6, 2)).tolist()
    lights = tuple(
        light(f"l{i}", tuple(at), float(rng.uniform(0, 360))) for i, at in enumerate(spots)
    )
    judged = case(bench(strips=strips, lights=lights, cells=(holder(), holder("b2", (40, 40)))))
    for found in (judged.operation, judged.drawn_operation):
        assert found is not None
        assert found.residual < 1e-9
        assert all(np.isfinite(flow.amps).all() for flow in found.lights.values())
    assert cards.judge(judged.card) is not None


def test_a_light_that_stays_dark_has_no_brightness() -> None:
    """A light behind 100 megohm gets next to nothing: dark, also where nothing else burns."""
    alone = operation(bench(lights=(light("light-1", SPOTS[0]),)), with_light(resistor_ohm=1e8))
    assert [flow.brightness for flow in alone.lights.values()] == [0.0]
