"""power-missing: there is no battery on the card.

A battery that is there but not whole is `part-incomplete` instead; a missing Power layer is
`layer-missing`.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import say
from ..model.case import Case
from ..model.finding import Finding

CODE = "power-missing"

#: The step of the work that brings it.
STEP = 3


def check(case: Case) -> Iterator[Finding]:
    """One finding for the card."""
    half = any(part.kind == "cell" for part in case.facts.incomplete)
    layer = any(layer.role == "power" for layer in case.facts.layers)
    if case.card.cells or half or not layer:
        return
    remedy = say("Next: step 3, put in the battery and press spot.")
    yield Finding(CODE, "stop", None, (), say("There is no battery yet."), remedy, STEP)
