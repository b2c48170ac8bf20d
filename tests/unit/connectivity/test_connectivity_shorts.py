"""Where a short was made: the cheapest cut between what says plus and what says minus."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from shapely.geometry import box

from rules.cards import SPOTS, bench, card, case, cut, holder, light, patch, rails, strip, tape
from underlit.model.card import Card, Patch, Strip
from underlit.model.circuit import Short

#: Runs from the plus rail down over the minus rail.
BRIDGE = strip("bridge", ((28, 20), (28, 30.5)))


def shorts(of: Card) -> tuple[Short, ...]:
    return case(of).circuit.shorts


def unlabelled(things: Sequence[Strip]) -> list[Strip]:
    return [strip(s.name, list(s.line.coords), s.width) for s in things if s.line is not None]


def names(of: Card, short: Short) -> list[set[str]]:
    circuit = case(of).circuit
    ends = [(circuit.contacts[i].upper, circuit.contacts[i].lower) for i in short.contacts]
    return [{circuit.conductors[n].name for n in pair} for pair in ends]


def test_the_good_card_has_none() -> None:
    assert shorts(bench()) == ()


def test_a_bridge_is_opened_where_it_is_cheapest() -> None:
    """It overlaps plus by 5 x 2.5 mm and minus by 5 x 5 mm."""
    (short,) = shorts(bench(BRIDGE))
    assert names(bench(BRIDGE), short) == [{"bridge", "plus"}]
    assert short.at == pytest.approx((28.0, 21.25))
    assert not short.guess
    assert not short.cells_in_row


@pytest.mark.parametrize(("label", "other"), [("positive", "minus"), ("negative", "plus")])
def test_a_label_says_on_which_side_of_a_bridge_the_fault_is(label: str, other: str) -> None:
    of = bench(strip("bridge", ((28, 20), (28, 30.5)), polarity=label))
    (short,) = shorts(of)
    assert names(of, short) == [{"bridge", other}]


def test_a_foot_on_the_bridge_says_so_too() -> None:
    """The bridge carries the plus foot of a light, so it belongs to plus."""
    lamp = light("lamp", (32.0, 36.0), 180.0)
    bridge = strip("bridge", ((28, 20), (28, 38.5)))
    of = bench(bridge, lights=(*bench().lights[:1], lamp))
    (short,) = shorts(of)
    assert names(of, short) == [{"bridge", "minus"}]
    assert short.at == pytest.approx((28.0, 28.0))


def test_two_separate_crossings_give_two_places() -> None:
    hook = strip("hook", ((26, 20), (26, 37), (44, 37), (44, 24)), polarity="positive")
    found = shorts(bench(hook))
    assert [s.at for s in found] == [pytest.approx((26.0, 28.0)), pytest.approx((44.0, 28.0))]


def test_contacts_that_touch_each_other_are_one_place() -> None:
    """Two pieces of minus tape that overlap in the middle, both under one plus strip."""
    left = strip("left", ((10, 28), (30, 28)), polarity="negative")
    right = strip("right", ((25, 28), (60, 28), (60, 62.5)), polarity="negative")
    over = strip("over", ((27.5, 20), (27.5, 32)), polarity="positive")
    of = bench(over, strips=[rails()[0], left, right])
    (short,) = shorts(of)
    assert names(of, short) == [{"over", "left"}, {"over", "right"}]


def test_a_short_through_a_foot() -> None:
    """A light whose plus foot lies on plus and, by a sliver, on a stray piece of minus."""
    stray = strip("stray", ((16, 20.5), (16, 28)), polarity="negative", width=5.4)
    plus = strip("plus", ((19.2, 20), (90, 20), (90, 62.5)), polarity="positive")
    of = bench(stray, strips=[plus, rails()[1]])
    (short,) = shorts(of)
    assert names(of, short) == [{"light-1", "stray"}]
    assert short.at == pytest.approx((18.6, 21.0), abs=0.01)


def test_a_bridging_sliver_without_label() -> None:
    sliver = cut("sliver", box(40, 21, 40.4, 26))
    (short,) = shorts(bench(sliver))
    assert short.at[0] == pytest.approx(40.2, abs=0.1)
    assert short.contacts


def test_evidence_is_overruled_where_it_must_be() -> None:
    """One reversed light among three does not move the place of a crossing."""
    lights = (light("a", SPOTS[0]), light("b", SPOTS[1], 90.0), light("c", SPOTS[2]))
    over = strip("over", ((27.5, 20), (27.5, 32)))
    of = bench(over, lights=lights)
    (short,) = shorts(of)
    assert "over" in names(of, short)[0]
    assert len(short.contacts) == 1


def test_a_wrong_label_does_not_make_a_short() -> None:
    plus = strip("plus", ((10, 20), (90, 20), (90, 62.5)), polarity="negative")
    assert shorts(bench(strips=[plus, rails()[1]])) == ()


def blind(*pieces: Strip | Patch) -> Card:
    """A battery and tape without labels or lights."""
    return card(cells=(holder("battery", (0, 0)),), **tape(pieces))


def test_without_evidence_a_crossing_comes_before_an_end_overlap() -> None:
    plus = strip("plus", ((15, -2.5), (15, 40), (-30, 40)))
    minus = strip("minus", ((-15, -2.5), (-15, 30)))
    end = strip("end", ((-15, 27.5), (-15, 60)))
    of = blind(plus, minus, end)
    (short,) = shorts(of)
    assert short.guess
    assert names(of, short) == [{"end", "plus"}]
    assert short.at == pytest.approx((-15.0, 40.0))


def test_with_evidence_the_place_is_no_guess() -> None:
    assert not shorts(bench(BRIDGE))[0].guess
    blank = unlabelled(rails())
    assert not shorts(bench(BRIDGE, strips=blank))[0].guess


def test_labels_alone_make_a_short_before_there_is_a_battery() -> None:
    a = strip("a", ((0, 0), (40, 0)), polarity="positive")
    b = strip("b", ((20, -20), (20, 20)), polarity="negative")
    of = card(**tape((a, b)))
    (short,) = shorts(of)
    assert short.at == pytest.approx((20.0, 0.0))


def test_batteries_in_a_row_are_told_apart() -> None:
    first, second = holder("first", (0, 0)), holder("second", (40, 0))
    between = strip("between", ((13, 0), (27, 0)))
    plus = strip("plus", ((55, -2.5), (55, 40), (-15, 40), (-15, -2.5)))
    of = card(cells=(first, second), **tape((between,)))
    assert [s.cells_in_row for s in shorts(of)] == [True]
    assert [s.cells_in_row for s in shorts(card(cells=(first,), **tape((plus,))))] == []


def test_tape_that_does_not_conduct_makes_no_short_by_crossing() -> None:
    of = bench(BRIDGE)
    from underlit.connectivity import read_circuit

    assert read_circuit(of, adhesive_conducts=False).shorts == ()


@pytest.mark.parametrize(
    ("order", "count"),
    [
        (("plus", "paper", "minus"), 0),
        (("paper", "plus", "minus"), 1),
        (("plus", "minus", "paper"), 1),
    ],
)
def test_a_patch_in_the_wrong_order_does_not_insulate(order: tuple[str, ...], count: int) -> None:
    things = {
        "plus": strip("plus", ((15, -2.5), (15, 40), (-30, 40)), polarity="positive"),
        "minus": strip("minus", ((-15, -2.5), (-15, 60)), polarity="negative"),
        "paper": patch("paper", box(-22, 33, -8, 47)),
    }
    assert len(shorts(blind(*(things[name] for name in order)))) == count


def test_rules_see_the_circuit_with_the_short_open() -> None:
    circuit = case(bench(BRIDGE)).circuit
    assert {net.polarity for net in circuit.nets} >= {"positive", "negative"}
    assert "both" not in {net.polarity for net in circuit.nets}
    assert "both" in {net.polarity for net in circuit.drawn}
    assert circuit.lit == frozenset(), "a shorted card stays dark"
