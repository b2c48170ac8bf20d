"""coin-cell: the standing caution about coin batteries.

Swallowed coin batteries kill small children within hours (Litovitz et al., Pediatrics 125(6),
2010). Always said once when a card has a battery. Local rules and the battery maker's data come
first.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import say
from ..model.case import Case
from ..model.finding import Finding

CODE = "coin-cell"


def check(case: Case) -> Iterator[Finding]:
    """One finding for a card with a battery."""
    if not case.card.cells:
        return
    yield Finding(
        CODE,
        "note",
        None,
        tuple(cell.id for cell in case.card.cells),
        say(
            "Coin batteries kill small children who swallow them. If one may have been swallowed, "
            "go to an emergency department at once."
        ),
        say(
            "Close the pocket for good, keep the card out of reach, bring spent ones to "
            "collection. Selling cards: ask about your local rules."
        ),
    )
