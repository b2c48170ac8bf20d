"""base-shows: the back sheet peeps out from under the panel.

Judged with flaps folded over; 0.1 mm passes. Nothing is said where base and panel do not lie
over each other at all (`outside-panel`).
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from ..connectivity.folding import flaps_of, folded
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
        far = shapely.distance(case.panel, shapely.points(shapely.get_coordinates(beyond)))
        at = max(shapely.get_parts(beyond), key=lambda p: p.area).point_on_surface()
        side = _side(case.panel, at)
        yield Finding(
            CODE,
            "caution",
            (at.x, at.y),
            (name,),
            f"The back sheet peeps out {mm(float(far.max()))} {side}.",
            "Trim it, or keep it as a frame.",
        )


def _pieces(case: Case, base: BaseGeometry) -> Iterator[tuple[BaseGeometry, str]]:
    """The separate pieces of the base, each with the object it belongs to."""
    names = case.card.base_objects
    parts = shapely.get_parts(base)
    for i, piece in enumerate(parts):
        yield piece, names[i] if len(parts) == len(names) else names[0]


def _side(panel: BaseGeometry, at: BaseGeometry) -> str:
    left, top, right, bottom = panel.bounds
    gaps = {
        "on the left": left - at.x,
        "on the right": at.x - right,
        "at the top": top - at.y,
        "at the bottom": at.y - bottom,
    }
    return max(gaps, key=lambda word: gaps[word])
