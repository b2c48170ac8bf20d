"""base-shows: the back sheet peeps out from under the panel.

Judged with flaps folded over; 0.1 mm passes. Nothing is said where base and panel do not lie
over each other at all (`outside-panel`).
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from ..connectivity.folding import flaps_of, folded
from ..geometry.places import farthest, inner_place
from ..language import later, mm, say
from ..model.case import Case
from ..model.finding import Finding

CODE = "base-shows"

#: What passes (mm).
ALLOWED = 0.1

#: What is said of each side: left, right, top, bottom.
SIDES = (
    later("The back sheet peeps out {far} on the left."),
    later("The back sheet peeps out {far} on the right."),
    later("The back sheet peeps out {far} at the top."),
    later("The back sheet peeps out {far} at the bottom."),
)


def check(case: Case) -> Iterator[Finding]:
    """One finding per base."""
    card = case.card
    if not card.base_drawn or not card.panels or case.apart:
        return
    base = card.base
    for flap in flaps_of(card):
        base = folded(base, flap)
    for piece, name in _pieces(case, base):
        beyond = piece.difference(case.panel)
        if beyond.difference(case.panel.buffer(ALLOWED)).is_empty:
            continue
        yield Finding(
            CODE,
            "caution",
            inner_place(beyond),
            (name,),
            _message(case.panel, beyond),
            say("Trim it, or keep it as a frame."),
        )


def _pieces(case: Case, base: BaseGeometry) -> Iterator[tuple[BaseGeometry, str]]:
    """The separate pieces of the base, each with the object it belongs to."""
    names = case.card.base_objects
    parts = shapely.get_parts(base)
    for i, piece in enumerate(parts):
        yield piece, names[i] if len(parts) == len(names) else names[0]


def _message(panel: BaseGeometry, beyond: BaseGeometry) -> str:
    """By how much and where: beyond one side of the panel, or in a notch of its edge."""
    left, top, right, bottom = panel.bounds
    x0, y0, x1, y1 = beyond.bounds
    far = (left - x0, x1 - right, top - y0, y1 - bottom)
    if max(far) > ALLOWED:
        return say(SIDES[far.index(max(far))], far=mm(max(far)))
    return say(
        "The back sheet peeps out {far} where the panel is cut away.",
        far=mm(farthest(beyond, panel)),
    )
