"""always-on: the light cannot be switched off.

Current flows with every switch open although another way of closing was meant: a switch that
tape leads round, a pull tab or a flap that is not there. A battery marked "always" on a card
without a switch is meant that way.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import say
from ..model.case import Case
from ..model.finding import Finding

CODE = "always-on"


def check(case: Case) -> Iterator[Finding]:
    """One finding per battery."""
    switched = any(s.attributes.get("closes") != "always" for s in case.card.switches)
    for cell in case.card.cells:
        closes = cell.attributes.get("closes", "press")
        if cell.id not in case.circuit.always or (closes == "always" and not switched):
            continue
        cure = {
            "tab": say("Add a pull tab under the battery."),
            "flap": say("Draw the flap's fold line and name this battery on it."),
        }.get(closes, say("Lead the tape through the switch, or add a pull tab."))
        yield Finding(
            CODE, "caution", cell.at, (cell.id,), say("The light cannot be switched off."), cure
        )
