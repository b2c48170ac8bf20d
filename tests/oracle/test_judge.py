"""The judge against small cards whose truth is plain to see."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kit.card import (
    Card,
    Outline,
    holder,
    light,
    patch,
    resistor,
    strip,
    switch,
)
from kit.shapes import box
from oracle.judge import MINUS, PLUS, Judgement, judge

BASE = Outline("base", box(0, 0, 100, 80))


def rung(*more, minus_y=40.0, angle=-90.0, parts=()):
    """One light between a plus rail (y = 20) and a minus rail (y = `minus_y`), cell right."""
    plus = strip("plus", [(10, 20), (90, 20), (90, 34)])
    minus = strip("minus", [(10, minus_y), (57.2, minus_y)])
    up = strip("up", [(30, 17.5), (30, 28)])
    down = strip("down", [(30, 32), (30, minus_y + 2.5)])
    cell = holder("cell", (75.0, 40.0), 0.0)
    foot = strip("foot", [(54, 40), (63.6, 40)])
    end = strip("end", [(90, 30), (90, 42)])
    return Card(
        page=(100, 80),
        base=(BASE,),
        lights=(light("L", (30.0, 30.0), angle),),
        power=(cell, *parts),
        tape=(plus, minus, up, down, foot, end, *more),
    )


def sign(j: Judgement, name: str) -> int:
    return j.polarity[j.net_of[name]]


def test_a_good_card():
    j = judge(rung())
    assert not j.short
    assert [sign(j, n) for n in ("plus", "up", "end")] == [PLUS] * 3
    assert [sign(j, n) for n in ("minus", "down", "foot")] == [MINUS] * 3
    assert (j.unfed, j.reversed, j.shorted, j.floating) == (set(), set(), set(), set())
    assert j.smallest_gap == pytest.approx(4.0, abs=0.08)
    assert j.cover["L.positive-pad"] == pytest.approx((9.0, 4.5), abs=0.1)


def test_reversed():
    assert judge(rung(angle=90.0)).reversed == {"L"}


def test_a_short_and_the_same_with_its_contact_opened():
    card = rung(strip("x", [(45, 17.5), (45, 38)]))
    j = judge(card)
    assert j.short
    assert j.shorted == {"L"}
    contact = next(c for c in j.contacts if c.names == {"x", "minus"})
    assert contact.at == pytest.approx((45.0, 37.75), abs=0.05)
    assert contact.area == pytest.approx(2.5, abs=0.3)
    again = judge(card, (frozenset(("x", "minus")),))
    assert not again.short
    assert sign(again, "x") == PLUS


@pytest.mark.parametrize("gap", [0.4, 1.5, 2.7])
def test_a_gap(gap):
    j = judge(rung(strip("x", [(45, 17.5), (45, 37.5 - gap)])))
    found = min(j.gaps, key=lambda g: g.distance)
    assert found.distance == pytest.approx(gap, abs=0.08)
    assert {found.a, found.b} == {"x", "minus"}
    assert found.limit == 2.0
    assert found.closest.middles.mean(axis=0) == pytest.approx((45.0, 37.5 - gap / 2), abs=0.1)


def test_tape_at_a_light_has_its_own_limit():
    near = replace(rung().tape_of("down"), shapes=strip("d", [(30, 29.0), (30, 42.5)]).shapes)
    card = replace(rung(), tape=tuple(near if t.id == "down" else t for t in rung().tape))
    close = {(g.a, g.b): g for g in judge(card).gaps if g.distance < 1.9}
    assert {g.limit for g in close.values()} == {1.0}
    assert close["down", "up"].distance == pytest.approx(1.0, abs=0.08)
    assert close["L.positive-pad", "down"].distance == pytest.approx(1.5, abs=0.08)


@pytest.mark.parametrize(
    ("half", "order", "short", "gap"),
    [
        (5.2, (0, 1, 2), False, 2.7),
        (3.5, (0, 1, 2), False, 1.0),
        (2.0, (0, 1, 2), True, None),
        (5.2, (1, 0, 2), True, None),
        (5.2, (0, 2, 1), True, None),
    ],
)
def test_a_crossing_over_a_patch(half, order, short, gap):
    extra = [
        strip("under", [(45, 37.5), (45, 60), (20, 60)]),  # minus
        patch("p", box(45 - half, 50 - half, 45 + half, 50 + half)),
        strip("over", [(12.5, 17.5), (12.5, 50), (60, 50)]),  # plus
    ]
    down = strip("minus", [(20, 40.0), (57.2, 40.0)])
    card = rung(*[extra[k] for k in order])
    card = replace(card, tape=tuple(down if t.id == "minus" else t for t in card.tape))
    j = judge(card)
    assert j.short == short
    if gap is not None:
        pair = [g for g in j.gaps if {g.a, g.b} == {"over", "under"}]
        assert min(g.distance for g in pair) == pytest.approx(gap, abs=0.08)


def test_no_tape_under_a_pad():
    card = rung()
    card = replace(card, tape=tuple(t for t in card.tape if t.id != "up"))
    assert judge(card).unfed == {"L.positive-pad"}


def test_a_strip_behind_a_cut_hangs_on_one_light():
    short = strip("up", [(30, 23.5), (30, 28)])
    card = rung()
    j = judge(replace(card, tape=tuple(short if t.id == "up" else t for t in card.tape)))
    assert j.unfed == {"L.positive-pad"}
    assert j.floating == {"up"}


def test_a_lonely_strip_floats():
    j = judge(rung(strip("x", [(20, 60), (50, 60)])))
    assert j.floating == {"x"}
    assert not j.unfed


def test_pad_cover():
    short = strip("up", [(30, 17.5), (30, 25.3)])
    card = rung()
    j = judge(replace(card, tape=tuple(short if t.id == "up" else t for t in card.tape)))
    assert j.cover["L.positive-pad"] == pytest.approx((2.4, 4.5), abs=0.15)


def _tail_with(part):
    card = rung(parts=(part,))
    tail = strip("minus", [(10, 40), (38, 40)]), strip("minus-2", [(42, 40), (57.2, 40)])
    return replace(card, tape=(*(t for t in card.tape if t.id != "minus"), *tail))


def test_a_resistor_keeps_nets_apart_and_hands_on_the_side():
    j = judge(_tail_with(resistor("R", (40, 40))))
    assert j.net_of["minus"] != j.net_of["minus-2"]
    assert sign(j, "minus") == sign(j, "minus-2") == MINUS
    assert not j.unfed


def test_a_switch_joins_nets():
    j = judge(_tail_with(switch("S", (40, 40))))
    assert j.net_of["minus"] == j.net_of["minus-2"]


def test_two_lights_in_a_row():
    card = rung(minus_y=60.0)
    tape = [t for t in card.tape if t.id not in ("down", "minus", "foot")]
    tape += [
        strip("middle", [(30, 32), (30, 44)]),
        strip("down", [(30, 48), (30, 62.5)]),
        strip("minus", [(10, 60), (54, 60), (54, 40), (63.6, 40)]),
    ]
    card = replace(card, tape=tuple(tape), lights=(*card.lights, light("M", (30, 46), -90.0)))
    j = judge(card)
    assert sign(j, "middle") == 0
    assert not j.unfed
    assert not j.floating


def test_edges():
    j = judge(rung(strip("x", [(20, 75.5), (50, 75.5)]), strip("y", [(60, 70), (60, 81)])))
    assert j.edge["x"] == pytest.approx(2.0, abs=0.08)
    assert j.edge["y"] == pytest.approx(-1.0, abs=0.08)
    assert j.edge["end"] == pytest.approx(7.5, abs=0.08)
