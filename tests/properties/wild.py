"""Seeded layouts with random harm done to them: what is wrong with them only the oracle knows."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

from kit.card import Card, Part, Tape, strip, with_part, with_tape
from kit.shapes import Point, compose, moved, shift, turn

from .layouts import Layout, good_layout


def wild_layout(seed: int) -> Layout:
    """A good layout after one to three random blows."""
    rng = random.Random(f"wild {seed}")
    layout = good_layout(seed + 50_000)
    card = layout.card
    for _ in range(rng.randint(1, 3)):
        card = rng.choice(_BLOWS)(rng, card)
    return replace(layout, card=card)


def _strips(card: Card) -> list[Tape]:
    return [t for t in card.tape if not t.patch]


def _somewhere(rng: random.Random, card: Card) -> Point:
    w, h = card.page
    return rng.uniform(12, w - 12), rng.uniform(12, h - 30)


def _shift_strip(rng: random.Random, card: Card) -> Card:
    tape = rng.choice(_strips(card))
    by = shift(rng.uniform(-5, 5), rng.uniform(-5, 5))
    return with_tape(card, replace(tape, shapes=tuple(moved(s, by) for s in tape.shapes)))


def _turn_strip(rng: random.Random, card: Card) -> Card:
    tape = rng.choice(_strips(card))
    x, y = _somewhere(rng, card)
    by = compose(shift(x, y), compose(turn(rng.uniform(-4, 4)), shift(-x, -y)))
    return with_tape(card, replace(tape, shapes=tuple(moved(s, by) for s in tape.shapes)))


def _drop_tape(rng: random.Random, card: Card) -> Card:
    gone = rng.choice(card.tape)
    return replace(card, tape=tuple(t for t in card.tape if t.id != gone.id))


def _add_strip(rng: random.Random, card: Card) -> Card:
    name = f"wild-{len(card.tape)}"
    points = [_somewhere(rng, card) for _ in range(rng.choice((2, 2, 3)))]
    return with_tape(card, strip(name, points, rng.choice((4.0, 5.0, 6.0))))


def _swap_order(rng: random.Random, card: Card) -> Card:
    tape = list(card.tape)
    i, j = rng.randrange(len(tape)), rng.randrange(len(tape))
    tape[i], tape[j] = tape[j], tape[i]
    return replace(card, tape=tuple(tape))


def _move_light(rng: random.Random, card: Card) -> Card:
    part: Part = rng.choice(card.lights)
    at = (part.at[0] + rng.uniform(-3, 3), part.at[1] + rng.uniform(-3, 3))
    angle = part.angle + rng.choice((0.0, 180.0, rng.uniform(-40, 40)))
    return with_part(card, replace(part, at=at, angle=angle))


_BLOWS: tuple[Callable[[random.Random, Card], Card], ...] = (
    _shift_strip,
    _shift_strip,
    _turn_strip,
    _drop_tape,
    _add_strip,
    _add_strip,
    _add_strip,
    _swap_order,
    _move_light,
)
