"""What lights a card, and where its reader presses."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from ..model.card import Card, Part
from ..records import record

T = TypeVar("T")

#: Ways that last only as long as the hand is on them; any other stays until it is undone.
HELD = frozenset({"press", "flap"})


@record
class Spot:
    """The place to press (page mm, from the front), and how: a word of `underlit:closes`."""

    at: tuple[float, float]
    way: str

    @property
    def held(self) -> bool:
        """Whether the card goes dark when it is let go."""
        return self.way in HELD


def spot_of(card: Card) -> Spot | None:
    """What is pressed, pushed or pulled; None without a battery."""
    if not card.cells:
        return None
    part = pressed((*card.cells, *card.switches), _way) or card.cells[0]
    return Spot(part.at, _way(part) or "press")


def pressed(parts: Sequence[T], way: Callable[[T], str]) -> T | None:
    """The first that closes the circuit by hand, else one that always does; `way`: its word."""
    closing = [part for part in parts if way(part)]
    moved = [part for part in closing if way(part) != "always"]
    return next(iter(moved or closing), None)


def _way(part: Part) -> str:
    return part.attributes.get("closes", "").strip()
