"""Nets: polarity, what floats, what is lit, what burns for ever."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from shapely.geometry import box

from rules.cards import SPOTS, bench, card, case, fold, holder, light, part, strip, tape, two_feet
from underlit.connectivity.nets import lit_lights, nets_of
from underlit.model.card import Card
from underlit.model.circuit import Circuit


def polarity_of(circuit: Circuit, name: str) -> str:
    number = next(i for i, c in enumerate(circuit.conductors) if c.name == name)
    return circuit.nets[circuit.net_of[number]].polarity


def fed(circuit: Circuit, name: str) -> bool:
    number = next(i for i, c in enumerate(circuit.conductors) if c.name == name)
    return circuit.nets[circuit.net_of[number]].fed


def in_a_row(*angles: float, resistor: bool = False) -> Card:
    """Battery, then parts one after the other on one line, each piece of tape on its own."""
    step, left = 20.0, 0.0
    places = [left + step * (i + 0.5) for i in range(len(angles))]
    lights = tuple(
        light(f"light-{i}", (x, 0.0), angle)
        for i, (x, angle) in enumerate(zip(places, angles, strict=True), 1)
    )
    ends = [left - 20.0, *places, places[-1] + 20.0]
    pieces = []
    for i, (a, b) in enumerate(pairwise(ends)):
        start = a + 2.0 if i else a
        stop = b - 2.0 if i < len(places) else b
        pieces.append(strip(f"strip-{i}", ((start, 0.0), (stop, 0.0))))
    cell = holder("battery", ((ends[0] + ends[-1]) / 2, 40.0))
    reach = cell.features["negative-pad"].centroid.x, cell.features["positive-pad"].centroid.x
    pieces.append(
        strip("minus-lead", ((ends[0] + 2.5, -2.5), (ends[0] + 2.5, 40), (reach[0] + 2, 40)))
    )
    pieces.append(
        strip("plus-lead", ((ends[-1] - 2.5, -2.5), (ends[-1] - 2.5, 40), (reach[1] - 2, 40)))
    )
    return card(lights=lights, cells=(cell,), **tape(pieces))


def test_two_rails_are_plus_and_minus_and_all_lights_are_lit() -> None:
    circuit = case(bench()).circuit
    assert polarity_of(circuit, "plus") == "positive"
    assert polarity_of(circuit, "minus") == "negative"
    assert len(circuit.lit) == 3


def test_a_reversed_light_is_not_lit_though_its_neighbours_are() -> None:
    lights = (light("a", SPOTS[0]), light("b", SPOTS[1], 90.0), light("c", SPOTS[2]))
    assert case(bench(lights=lights)).circuit.lit == {"a", "c"}


def test_tape_between_two_lights_in_a_row_is_none_and_fed() -> None:
    circuit = case(in_a_row(0.0, 0.0)).circuit
    assert polarity_of(circuit, "strip-1") == "none"
    assert fed(circuit, "strip-1")
    assert circuit.lit == {"light-1", "light-2"}


def test_three_in_a_row_are_lit_and_one_turned_puts_all_out() -> None:
    assert len(case(in_a_row(0.0, 0.0, 0.0)).circuit.lit) == 3
    circuit = case(in_a_row(0.0, 180.0, 0.0)).circuit
    assert circuit.lit == frozenset()


def test_two_lights_side_by_side_in_a_row_the_wrong_one_stays_dark() -> None:
    """+ A - X, then X - B - Y with C against B, then Y - D -: C is not lit."""
    links = [("a", 0, 1), ("b", 1, 2), ("c", 2, 1), ("d", 2, 3)]
    assert lit_lights(links, [], [(0, 3)]) == {"a", "b", "d"}


def test_lit_needs_one_and_the_same_battery() -> None:
    assert lit_lights([("a", 0, 3)], [], [(0, 1), (2, 3)]) == frozenset()
    assert lit_lights([("a", 0, 1)], [(1, 2)], [(0, 2)]) == {"a"}


def test_a_strip_cut_off_behind_one_light_floats() -> None:
    minus = strip("minus", ((10, 28), (27, 28)))
    rest = strip("rest", ((29.5, 28), (60, 28), (60, 62.5)))
    plus = bench().strips[0]
    circuit = case(bench(strips=[plus, minus, rest])).circuit
    assert polarity_of(circuit, "minus") == "none"
    assert not fed(circuit, "minus")
    assert circuit.lit == {"light-2", "light-3"}


def test_a_rail_cut_off_behind_two_lights_of_one_side_floats_too() -> None:
    minus = strip("minus", ((10, 28), (42, 28)))
    rest = strip("rest", ((44.5, 28), (60, 28), (60, 62.5)))
    circuit = case(bench(strips=[bench().strips[0], minus, rest])).circuit
    assert not fed(circuit, "minus")
    assert circuit.lit == {"light-3"}


def test_a_resistor_hands_the_side_on_without_merging() -> None:
    """Minus lead, cut open and bridged by a resistor at (60, 40)."""
    lead = strip("lead", ((60, 43), (60, 62.5)))
    rail = strip("rail", ((10, 28), (60, 28), (60, 37)))
    bridge = two_feet("resistor", "r", (60, 40), 90.0, ohms="100")
    circuit = case(bench(strips=[bench().strips[0], rail, lead], resistors=(bridge,))).circuit
    assert polarity_of(circuit, "rail") == "negative"
    assert circuit.net_of[1] != circuit.net_of[2]
    assert len(circuit.lit) == 3


def test_reached_through_resistors_from_both_sides_is_none() -> None:
    a, b = two_feet("resistor", "a", (0, 0)), two_feet("resistor", "b", (0, 0))
    things = card(resistors=(a, b), cells=(holder(),))
    circuit = case(things).circuit
    index = circuit.pad_index
    plus, minus = index["battery", "positive-pad"], index["battery", "negative-pad"]
    rungs = [(index["a", "contact-1"], index["a", "contact-2"])]
    rungs += [(index["b", "contact-1"], index["b", "contact-2"])]
    pairs = [(plus, rungs[0][0]), (rungs[0][1], rungs[1][0]), (rungs[1][1], minus)]
    nets, net_of = nets_of(circuit.conductors, pairs, rungs, [])
    middle = nets[net_of[rungs[0][1]]]
    assert (middle.polarity, middle.fed) == ("none", True)


def test_a_closed_switch_joins_and_an_open_one_does_not() -> None:
    lead = strip("lead", ((60, 43), (60, 62.5)))
    rail = strip("rail", ((10, 28), (60, 28), (60, 37)))
    bridge = two_feet("switch", "s", (60, 40), 90.0, closes="slide")
    strips = [bench().strips[0], rail, lead]
    of = bench(strips=strips, switches=(bridge,), cells=(holder(closes="always"),))
    circuit = case(of).circuit
    assert circuit.net_of[1] == circuit.net_of[2]
    assert len(circuit.lit) == 3
    assert circuit.always == frozenset()


@pytest.mark.parametrize(
    ("closes", "burns"),
    [
        ("press", False),
        ("slide", False),
        ("open", False),
        ("always", True),
        ("tab", True),
        ("flap", True),
    ],
)
def test_what_burns_with_every_switch_open(closes: str, burns: bool) -> None:
    circuit = case(bench(cells=(holder(closes=closes),))).circuit
    assert circuit.always == ({"battery"} if burns else frozenset())


def test_a_pull_tab_and_a_flap_break_the_circuit() -> None:
    tab = part("pull-tab", "tab", {"body": box(70, 55, 120, 65)})
    assert not case(bench(cells=(holder(closes="tab"),), pull_tabs=(tab,))).circuit.always
    line = fold("f", ((0, 75), (100, 75)), cell="battery")
    assert not case(bench(cells=(holder(closes="flap"),), folds=(line,))).circuit.always


def test_without_a_battery_every_net_is_none_and_nothing_is_fed() -> None:
    circuit = case(bench(cells=())).circuit
    assert {net.polarity for net in circuit.nets} == {"none"}
    assert not any(net.fed for net in circuit.nets)
    assert circuit.lit == frozenset()


def test_feet_count_for_the_net_they_lie_on() -> None:
    circuit = case(bench()).circuit
    lamp = bench().lights[0]
    assert circuit.pad_net(lamp, "positive-pad").polarity == "positive"
    away = replace(bench(), lights=(light("far", (80, 75)),))
    alone = case(away).circuit.pad_net(away.lights[0], "positive-pad")
    assert (alone.polarity, alone.fed, len(alone.conductors)) == ("none", False, 1)


def through(*links: tuple[str, str]) -> dict[str, str]:
    """Polarity of named nets that resistors link; "+" and "-" are the battery's sides."""
    names = sorted({name for link in links for name in link} | {"+", "-"})
    things = tuple(two_feet("resistor", f"r{i}", (0, 0)) for i in range(len(links)))
    circuit = case(card(resistors=things, cells=(holder(),))).circuit
    index = circuit.pad_index
    rungs = [(index[r.id, "contact-1"], index[r.id, "contact-2"]) for r in things]
    first = {"+": index["battery", "positive-pad"], "-": index["battery", "negative-pad"]}
    pairs = []
    for link, feet in zip(links, rungs, strict=True):
        for name, foot in zip(link, feet, strict=True):
            pairs.append((first.setdefault(name, foot), foot))
    nets, net_of = nets_of(circuit.conductors, pairs, rungs, [])
    return {name: nets[net_of[first[name]]].polarity for name in names}


def test_a_chain_of_resistors_hands_its_one_side_on() -> None:
    found = through(("+", "a"), ("a", "b"), ("b", "c"))
    assert {found[name] for name in "abc"} == {"positive"}


def test_a_chain_between_both_sides_is_none_all_along() -> None:
    found = through(("+", "a"), ("a", "b"), ("b", "-"))
    assert (found["a"], found["b"]) == ("none", "none")


def test_two_chains_do_not_mix() -> None:
    found = through(("+", "a"), ("b", "-"), ("c", "d"))
    assert (found["a"], found["b"], found["c"], found["d"]) == (
        "positive", "negative", "none", "none",
    )  # fmt: skip


def test_a_resistor_across_the_battery_changes_nothing() -> None:
    found = through(("+", "-"), ("+", "a"))
    assert (found["+"], found["-"], found["a"]) == ("positive", "negative", "positive")
