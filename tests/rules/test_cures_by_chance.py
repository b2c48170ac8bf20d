"""Cures of cards made by chance: done to the drawing itself, they hold what was computed."""

from __future__ import annotations

import random
from dataclasses import replace
from math import inf

import pytest

from rules import cards
from rules.cards import case
from rules.lit_cards import NARROW, behind, electrical, in_a_row, lit, pieces
from underlit.model.card import Card
from underlit.model.operation import Change
from underlit.profiles import Profile
from underlit.rules.curing.faults import faults_of
from underlit.rules.curing.plan import plan_of

KINDS = ("warm-white", "red", "blue", "green", "amber", "colour-change")


def chance(seed: int) -> tuple[Card, Profile]:
    """Some lights on the rails of the bench, on any tape and battery, with or without parts."""
    rng = random.Random(seed)
    few = rng.choice((1, 2, len(KINDS)))
    kinds = [
        rng.choice(KINDS[:few] if rng.random() < 0.5 else KINDS) for _ in range(rng.randint(1, 7))
    ]
    what = rng.random()
    if what < 0.15:
        card = in_a_row(rng.choice(KINDS), rng.choice(KINDS))
    elif what < 0.3:
        card = behind(str(rng.choice((1, 100, 1000, 4700, 100_000))), *kinds)
    elif what < 0.45:
        card = lit(*kinds, pitch=6.0, strips=pieces(rng.choice((2, 5, 12))))
    elif what < 0.55:
        card = lit(*kinds, pitch=6.0, strips=NARROW)
    else:
        card = lit(*kinds, pitch=6.0)
    battery = rng.choice(("cr2032", "cr2032", "cr1220", "cr1632", "cr2450"))
    own = cards.profile(rng.choice(("hand-laid", "hand-laid-cautious", "classroom")))
    tape = replace(
        own.tape,
        ohms_per_square=10 ** rng.uniform(-3.0, 1.0),
        joint_aged_ohm_mm2=10 ** rng.uniform(0.5, 3.5),
    )
    limits = replace(own.limits, least_hours=rng.choice((2.0, 2.0, 50.0)))
    cells = tuple(replace(cell, type=battery) for cell in card.cells)
    return replace(card, cells=cells), replace(own, tape=tape, limits=limits)


def really(of: Card, own: Profile, change: Change) -> tuple[Card, Profile] | None:
    """The change done to the drawing itself; None where it is one to the tape."""
    if change.whole or change.feeds or change.beside:
        return None
    lights, kinds = [], dict(own.lights)
    for one in of.lights:
        if one.id in change.without:
            continue
        kind = change.types.get(one.id, one.type)
        ohm = change.resistors.get(one.id, 0.0)
        if ohm:  # a kind of its own with the resistor built in; one name per kind and resistor
            kinds[f"{kind}+{ohm:g}"] = replace(own.lights[kind], resistor_ohm=ohm)
            kind = f"{kind}+{ohm:g}"
        lights.append(replace(one, type=kind))
    parts = tuple(
        replace(part, attributes={**part.attributes, "ohms": str(max(change.ohms[part.id], 1e-6))})
        if part.id in change.ohms
        else part
        for part in of.resistors
    )
    cells = tuple(replace(cell, type=change.cells or cell.type) for cell in of.cells)
    card = replace(of, lights=tuple(lights), cells=cells, resistors=parts)
    return card, replace(own, lights=kinds)


def holds(seed: int) -> None:
    card, own = chance(seed)
    judged = case(card, own)
    plan, before = plan_of(judged), faults_of(judged)
    for cure in plan.cures:
        after = faults_of(cure.after)
        assert after.keys() < before.keys(), seed
        assert all(fault.excess <= before[key].excess * 1.00001 for key, fault in after.items())
        done = really(cure.state.base.card, own, cure.state.change)
        if done is not None and not any(inf == ohm for ohm in cure.state.change.ohms.values()):
            found = faults_of(case(*done))
            assert {k for k in found if k[0] != "uneven-lights"} == {
                k for k in after if k[0] != "uneven-lights"
            }, (seed, cure.words)
        before = after
    remedies = [f.remedy for f in electrical(card, own)]
    for cure in plan.cures:
        assert sum(cure.words[1:] in remedy for remedy in remedies) == 1, (seed, cure.words)


@pytest.mark.parametrize("seed", range(10))
def test_cures_hold_when_they_are_done_to_the_drawing(seed: int) -> None:
    holds(seed)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(10, 250))
def test_cures_hold_when_they_are_done_to_the_drawing_long(seed: int) -> None:
    holds(seed)
