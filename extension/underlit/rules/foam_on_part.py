"""foam-on-part: foam where something is to be pressed or moved.

Foam over a press or flap battery, or over a switch, keeps it from closing (or closes it for
good).
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from ..language import say
from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding

CODE = "foam-on-part"

#: Less than this is drawing noise (mm2).
NOISE = 0.01

#: Ways of closing that foam over the battery stops.
MOVED = ("press", "flap", "slide")


def check(case: Case) -> Iterator[Finding]:
    """One finding per part."""
    card = case.card
    parts = [c for c in card.cells if c.attributes.get("closes", "press") in MOVED]
    for part in (*parts, *card.switches):
        for sheet in card.foam:
            hidden = sheet.geometry.intersection(part.body)
            if hidden.area > NOISE:
                yield _finding(case, part, sheet.object, hidden)
                break


def _finding(case: Case, part: Part, foam: str, hidden: shapely.Geometry) -> Finding:
    at = hidden.centroid
    return Finding(
        CODE,
        "caution",
        (at.x, at.y),
        (part.id, foam),
        say("Foam lies over {part}: it cannot be pressed.", part=case.inner(part)),
        say("Cut the foam away there, as a ring round it."),
    )
