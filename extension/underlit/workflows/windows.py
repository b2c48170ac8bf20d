"""Windows with their numbers, clear of everything on the card that is drawn above them."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry.base import BaseGeometry

from ..markup.numbering import numbers
from ..markup.openings import opening_groups
from ..markup.primitives import Group, Text
from ..model.card import Card


def window_groups(card: Card) -> tuple[Group, ...]:
    """What stands on the Openings layer for every window."""
    return opening_groups(card.openings, *_above(card))


def window_numbers(card: Card) -> tuple[tuple[str, Text], ...]:
    """The number of every window, by the window's name."""
    labels = numbers(card.openings, *_above(card))
    return tuple((o.name, label) for o, label in zip(card.openings, labels, strict=True))


def _above(card: Card) -> tuple[Sequence[BaseGeometry], Sequence[BaseGeometry]]:
    """Bodies of lights; tape, paper over it, and bodies of all other parts."""
    others = (*card.cells, *card.switches, *card.resistors, *card.pull_tabs)
    return [light.body for light in card.lights], [*card.tape, *(part.body for part in others)]
