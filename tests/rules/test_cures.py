"""Cures of the electrical rules: done to the card and judged again, they hold what they say."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from rules import cards
from rules.cards import bench, case, light, strip, two_feet, with_cell, with_tape
from rules.lit_cards import NARROW, behind, electrical, in_a_row, lit, pieces
from underlit.model.card import Card
from underlit.model.operation import Change
from underlit.profiles import Profile
from underlit.rules.curing.faults import faults_of
from underlit.rules.curing.plan import plan_of
from underlit.rules.curing.states import State

CARDS: dict[str, tuple[Card, Profile | None]] = {
    "a red light": (lit("red"), None),
    "red lights": (lit(*["red"] * 6), None),
    "a delicate red light": (lit("red"), cards.with_light("red", largest_ma=5.0)),
    "red beside blue": (lit("red", "blue"), None),
    "red beside many": (lit("red", "blue", "warm-white", "green"), None),
    "red beside a chip": (lit("red", "colour-change"), None),
    "white in a row": (in_a_row("warm-white", "warm-white"), None),
    "red in a row": (in_a_row("red", "red"), None),
    "mixed in a row": (in_a_row("red", "blue"), None),
    "a weak battery": (lit("warm-white"), with_cell(volt=2.0)),
    "many lights": (lit(*["warm-white"] * 8, pitch=5.0), cards.profile("hand-laid-cautious")),
    "poor tape": (bench(), with_tape(ohms_per_square=20.0)),
    "narrow tape": (bench(strips=NARROW), with_tape(ohms_per_square=5.0, width=3.0)),
    "aged overlaps": (bench(strips=pieces(12)), with_tape(joint_aged_ohm_mm2=2000.0)),
    "a resistor": (behind("2200", "warm-white"), None),
    "a resistor for all": (behind("4700", "warm-white", "red", "warm-white"), None),
    "soon flat": (bench(), cards.with_limits(least_hours=48.0)),
    "never for so long": (bench(), cards.with_limits(least_hours=9000.0)),
    "overdrawn": (bench(), with_cell(continuous_ma=3.0)),
}


@pytest.mark.parametrize("name", CARDS)
def test_no_cure_brings_another_fault_or_makes_one_worse(name: str) -> None:
    judged = case(*CARDS[name])
    plan = plan_of(judged)
    before = faults_of(judged)
    assert before
    for cure in plan.cures:
        after = faults_of(cure.after)
        assert cure.cured
        assert not after.keys() & {(fault.code, fault.name) for fault in cure.cured}
        assert after.keys() < before.keys()
        assert all(fault.excess <= before[key].excess * 1.00001 for key, fault in after.items())
        before = after


@pytest.mark.parametrize("name", CARDS)
def test_each_cure_is_said_once_and_referred_to(name: str) -> None:
    judged = case(*CARDS[name])
    remedies = [f.remedy for f in electrical(*CARDS[name])]
    for cure in plan_of(judged).cures:
        words = cure.words[1:]
        assert sum(words in remedy for remedy in remedies) == 1, (cure.words, remedies)
    for finding in electrical(*CARDS[name]):
        cards.said(finding)
        assert len(finding.message) < 200, finding.message
        assert len(finding.remedy) < 260, finding.remedy
        assert not re.search(
            r"\b1 lights|-0\b|\b(cell|pad|joint|net)s?\b|nan|inf\b",
            finding.message + finding.remedy,
        )


@pytest.mark.parametrize(
    "name", ["a red light", "red beside blue", "red beside many", "red lights"]
)
def test_the_resistor_named_is_enough_when_it_is_built_in(name: str) -> None:
    card, own = CARDS[name]
    first = electrical(card, own)[0]
    ohm = float(re.search(r"resistor of (\d+) ohms", first.remedy)[1])  # type: ignore[index]
    profile = own or cards.profile()
    red = replace(profile.lights["red"], resistor_ohm=ohm)
    assert electrical(card, replace(profile, lights={**profile.lights, "red": red})) == []


def test_a_larger_battery_that_is_offered_is_enough() -> None:
    card, own = CARDS["many lights"]
    assert "CR2450 battery (24.5 mm across, 5 mm high" in electrical(card, own)[0].remedy
    cells = tuple(replace(cell, type="cr2450") for cell in card.cells)
    assert electrical(replace(card, cells=cells), own) == []


def test_no_battery_is_offered_that_makes_a_light_too_bright() -> None:
    """A CR2450 would cure what a red light asks of a CR2032, but burn the light."""
    own = cards.with_light("red", largest_ma=17.0)
    state = State(case(lit("red"), own), Change())
    larger = state.then(Change(cells="cr2450"))
    assert ("current-too-high", "light-1") in larger.faults
    assert larger.worse_than(state)
    assert not any("CR2450" in f.remedy for f in electrical(lit("red"), own))


def test_a_thicker_battery_needs_room_in_the_stack() -> None:
    card, own = CARDS["many lights"]
    assert own is not None
    flat = replace(own, stack=replace(own.stack, spacer=5.0))
    strips = cards.tape(
        [
            strip("plus", ((10, 20), (80, 20), (80, 62.5))),
            strip("minus", ((10, 28), (70, 28), (70, 62.5))),
        ]
    )
    bare = replace(card, cells=(cards.bare_cell(),), **strips)
    assert "CR2450" in electrical(bare, own)[0].remedy
    assert not any("CR2450" in f.remedy for f in electrical(bare, flat))


def test_wider_tape_is_offered_only_where_gaps_stay() -> None:
    card, own = CARDS["narrow tape"]
    assert own is not None
    first = electrical(card, own)[0]
    width = float(re.search(r"Use tape ([\d.]+) mm wide", first.remedy)[1])  # type: ignore[index]
    points = (cards.PLUS, cards.MINUS)
    wide = [strip(n, p, width=width) for n, p in zip(("plus", "minus"), points, strict=True)]
    assert electrical(bench(strips=wide), own) == []
    close = [
        strip("plus", ((10, 22), (90, 22), (90, 62.5)), width=3.0),
        strip("minus", ((10, 27.2), (60, 27.2), (60, 62.5)), width=3.0),
    ]
    assert not any("mm wide" in f.remedy for f in electrical(bench(strips=close), own))


def test_one_long_strip_instead_of_pieces() -> None:
    card, own = CARDS["aged overlaps"]
    first = electrical(card, own)[0]
    assert "one long strip (12 overlaps less)" in first.remedy
    assert electrical(bench(), own) == []


def test_lights_are_named_that_are_to_go() -> None:
    own = replace(cards.profile(), cells={"cr2032": cards.profile().cells["cr2032"]})
    own = replace(own, limits=replace(own.limits, light_smallest_ma=1.0))
    card = lit(*["warm-white"] * 9, pitch=4.5)
    first = electrical(card, own)[0]
    named = re.search(r"Take (lights? [\d, to and]+) out", first.remedy)
    assert named is not None
    out = {int(n) for n in re.findall(r"\d+", named[1])}
    if " to " in named[1]:
        low, high = min(out), max(out)
        out = set(range(low, high + 1))
    left = tuple(one for one in card.lights if int(one.id.split("-")[1]) not in out)
    assert 0 < len(left) < 9
    assert electrical(replace(card, lights=left), own) == []


def test_the_other_end_names_its_strip_and_holds_what_it_says() -> None:
    """Laid as it says, the card has no fault and the currents named, within two digits."""
    own = with_tape(ohms_per_square=8.0)
    own = replace(own, limits=replace(own.limits, light_evenness=0.8, light_smallest_ma=0.01))
    first = electrical(bench(), own)[0]
    found = re.search(r"about (\d+) mm of new tape .* about ([\d.]+) to ([\d.]+) mA", first.remedy)
    assert found is not None
    length, low, high = (float(word) for word in found.groups())
    run = 62.5 - 33.0
    side = length - run - 50.0  # what is left over of the way is spent to the left and back
    back = strip("back", ((60, 62.5), (60, 38), (20 - side, 38), (20, 25.5)))
    rail = strip("minus", ((10, 28), (55, 28)))
    laid = bench(strips=[cards.rails()[0], rail, back])
    assert electrical(laid, own) == []
    operation = case(laid, own).operation
    assert operation is not None
    aged = [1e3 * flow.amps[2] for flow in operation.lights.values()]
    assert min(aged) == pytest.approx(low, rel=0.1)
    assert max(aged) == pytest.approx(high, rel=0.1)


def test_a_smaller_resistor_part_is_named() -> None:
    first = electrical(*CARDS["a resistor"])[0]
    assert "the resistor before it lets too little through" in first.message
    ohm = re.search(r"Use (\d+) ohms instead of 2200 at the resistor", first.remedy)
    assert ohm is not None
    assert electrical(behind(ohm[1], "warm-white")) == []


def test_a_dark_card_is_no_cure() -> None:
    """Without all but a chip that lacks its voltage, no battery would ever run flat."""
    own = cards.with_limits(least_hours=200.0)
    card = behind("1000", "colour-change", "red", "red", "warm-white", "red", "warm-white")
    judged = case(replace(card, cells=(replace(card.cells[0], type="cr1632"),)), own)
    for cure in plan_of(judged).cures:
        assert any(flow.amps[1] > 5e-5 for _, flow in cure.after.fed), cure.words
    assert electrical(judged.card, own)


def test_a_resistor_between_plus_and_minus_is_to_go() -> None:
    part = two_feet("resistor", "r", (42, 24), 90.0, ohms="10")
    found = electrical(bench(resistors=(part,)))
    assert {f.rule for f in found} == {"cell-overdrawn", "light-dim"}
    assert found[0].remedy.startswith("Take the resistor out and leave its place open; ")
    assert "the resistor between plus and minus takes what it should get" in found[1].message
    assert electrical(bench()) == []


def test_two_circuits_are_cured_each_by_itself() -> None:
    """A red light on a battery of its own robs no blue one on another, and its battery alone is
    relieved."""
    strips = [
        strip("p1", ((10, 10), (40, 10), (40, 40))),
        strip("m1", ((10, 18), (20, 18), (20, 40))),
        strip("p2", ((50, 10), (90, 10), (90, 60))),
        strip("m2", ((50, 18), (70, 18), (70, 60))),
    ]
    cells = (
        cards.part("cell", "a", feet((40, 38), (20, 38)), "cr2032", closes="press"),
        cards.part("cell", "b", feet((90, 58), (70, 58)), "cr2032", closes="press"),
    )
    blue = [light(f"blue-{i}", (55.0 + 3.0 * i, 14.0), type="blue") for i in range(5)]
    lights = (light("red", (13.0, 14.0), type="red"), *blue)
    card = bench(strips=strips, lights=lights, cells=cells, openings=())
    first = electrical(card)[0]
    assert (first.rule, first.objects) == ("cell-overdrawn", ("a",))
    assert first.remedy.startswith("Put a resistor of 47 ohms before light 1; ")
    found = electrical(card, cards.with_limits(light_smallest_ma=1.4))
    dim = [f for f in found if f.rule == "light-dim"]
    assert len(dim) == 5
    assert not any("red" in f.message for f in dim)


def feet(plus: cards.Point, minus: cards.Point) -> dict[str, BaseGeometry]:
    shapes = {"positive-pad": plus, "negative-pad": minus}
    pads = {name: box(x - 2, y - 2.5, x + 2, y + 2.5) for name, (x, y) in shapes.items()}
    return {**pads, "body": box(minus[0] + 1, plus[1] - 10, plus[0] - 1, plus[1] + 10)}


def test_large_cards_get_words_without_trials() -> None:
    lights = tuple(light(f"l{i}", (12.0 + 0.29 * i, 24.0)) for i in range(160))
    found = electrical(bench(lights=lights, openings=()))
    assert found
    words = "Use far fewer lights on this battery; on so large a card I try nothing out."
    assert [f.remedy for f in found].count(words) == 1
    assert {f.remedy for f in found} <= {words, "As said at light 1.", "As said at the battery."}


def test_a_cure_is_said_where_its_maker_reads_it() -> None:
    """What is accepted is set aside: nothing may lead there."""
    card = replace(lit("red", "blue"), accepts={"battery": frozenset({"cell-overdrawn"})})
    told = {f.rule: f.remedy for f in electrical(card)}
    assert told["light-dim"].startswith("Put a resistor of ")
    assert told["cell-life-short"].startswith("What is named at light 2 helps here too: ")


def test_a_resistor_that_is_too_small_is_exchanged() -> None:
    """Rather than taken out with another one put in before the light."""
    (overdrawn,) = electrical(behind("10", "red"))
    assert overdrawn.remedy.startswith("Use 47 ohms instead of 10 at the resistor; ")
