"""What lights a card, and where its reader presses."""

from __future__ import annotations

from ..model.card import Card, Part
from ..records import record

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
    closing = [part for part in (*card.cells, *card.switches) if _way(part)]
    moved = [part for part in closing if _way(part) != "always"] or closing
    part = moved[0] if moved else card.cells[0]
    return Spot(part.at, _way(part) or "press")


def _way(part: Part) -> str:
    return part.attributes.get("closes", "").strip()
