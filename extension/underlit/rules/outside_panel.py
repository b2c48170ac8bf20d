"""outside-panel: back sheet and panel do not lie over each other.

Drawn side by side, nobody can tell which light is behind which window: windows are not checked.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import say
from ..model.case import Case
from ..model.finding import Finding

CODE = "outside-panel"


def check(case: Case) -> Iterator[Finding]:
    """One finding for the card."""
    if not case.apart:
        return
    at = case.card.base.point_on_surface()
    yield Finding(
        CODE,
        "note",
        (at.x, at.y),
        case.card.base_objects,
        say("Back sheet and panel do not lie over each other, so I cannot check the windows."),
        say("Move the back sheet with all that is on it under the panel."),
    )
