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
from ..model.case import Case
from ..model.finding import Finding
from .wording import mm

CODE = "base-shows"

#: What passes (mm).
ALLOWED = 0.1


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
            f"The back sheet peeps out {_how_far(case.panel, beyond)}.",
            "Trim it, or keep it as a frame.",
        )


def _pieces(case: Case, base: BaseGeometry) -> Iterator[tuple[BaseGeometry, str]]:
    """The separate pieces of the base, each with the object it belongs to."""
    names = case.card.base_objects
    parts = shapely.get_parts(base)
    for i, piece in enumerate(parts):
        yield piece, names[i] if len(parts) == len(names) else names[0]


def _how_far(panel: BaseGeometry, beyond: BaseGeometry) -> str:
    """By how much and where: beyond one side of the panel, or in a notch of its edge."""
    left, top, right, bottom = panel.bounds
    x0, y0, x1, y1 = beyond.bounds
    sides = {
        "on the left": left - x0,
        "on the right": x1 - right,
        "at the top": top - y0,
        "at the bottom": y1 - bottom,
    }
    side = max(sides, key=lambda word: sides[word])
    if sides[side] > ALLOWED:
        return f"{mm(sides[side])} {side}"
    return f"{mm(farthest(beyond, panel))} where the panel is cut away"
