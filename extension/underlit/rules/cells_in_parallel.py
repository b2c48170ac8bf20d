"""cells-in-parallel: more than one battery.

Batteries side by side only work if both are alike and fresh; a weak one is charged by the
other, which coin batteries do not stand (makers allow little or none).
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import say
from ..model.case import Case
from ..model.finding import Finding

CODE = "cells-in-parallel"


def check(case: Case) -> Iterator[Finding]:
    """One finding for the card."""
    cells = case.card.cells
    if len(cells) < 2:
        return
    yield Finding(
        CODE,
        "caution",
        cells[1].at,
        tuple(cell.id for cell in cells),
        say(
            "{number} batteries feed this card. The weaker one is charged by the other.",
            number=len(cells),
        ),
        say("Use one larger battery, or two fresh ones of one pack, changed together."),
    )
