"""Cards whose lights are too bright, faint or soon out, on the rails of the bench."""

from __future__ import annotations

from rules import cards
from rules.cards import bench, judge, light, strip, two_feet
from underlit.model.card import Card, Strip
from underlit.model.finding import Finding
from underlit.profiles import Profile
from underlit.rules.curing.faults import CODES


def lit(*kinds: str, pitch: float = 9.0, **more: object) -> Card:
    """The bench with these lights on its rails and no windows."""
    lights = tuple(
        light(f"light-{i}", (10.0 + i * pitch, 24.0), type=kind) for i, kind in enumerate(kinds, 1)
    )
    return bench(lights=lights, openings=(), **more)


def electrical(of: Card, own: Profile | None = None) -> list[Finding]:
    return [f for f in judge(of, own) if f.rule in CODES]


def in_a_row(first: str, second: str) -> Card:
    middle = strip("middle", ((66, 45), (84, 45)))
    row = (light("light-1", (86, 45), 0.0, first), light("light-2", (64, 45), 0.0, second))
    return bench(middle, lights=row, openings=())


def behind(ohms: str, *kinds: str) -> Card:
    """A resistor in the plus lead."""
    rails = [
        strip("plus", ((10, 20), (90, 20), (90, 30))),
        strip("lead", ((90, 36), (90, 62.5))),
        cards.rails()[1],
    ]
    part = two_feet("resistor", "r", (90, 33), 90.0, ohms=ohms)
    return lit(*kinds, strips=rails, resistors=(part,))


def pieces(count: int) -> list[Strip]:
    """The plus rail of many pieces end to end."""
    step = 80.0 / count
    ends = [(10.0 + i * step, 10.0 + (i + 1) * step + 3.0) for i in range(count)]
    rail = [strip(f"piece-{i}", ((a, 20), (b, 20))) for i, (a, b) in enumerate(ends)]
    return [*rail, strip("lead", ((90, 17.5), (90, 62.5))), cards.rails()[1]]


NARROW = [strip("plus", cards.PLUS, width=3.0), strip("minus", cards.MINUS, width=3.0)]
