"""off-base: tape or a part hangs over the back sheet.

More than 0.3 mm beyond the edge (what a hand does not see) is marked. Pull tabs are meant to
stick out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.places import farthest, inner_place
from ..model.case import Case
from ..model.finding import Finding
from ..units import TOLERANCE
from .wording import mm

CODE = "off-base"

#: What may stick out unseen (mm).
ALLOWED = 0.3


def check(case: Case) -> Iterator[Finding]:
    """One finding per object."""
    base = case.card.base
    if base.is_empty:
        return
    objects = [(strip.name, "This strip", strip.geometry) for strip in case.card.strips]
    objects += [(part.id, case.call(part), part.body) for part in case.bodies]
    for i in outside(case, [geometry for _, _, geometry in objects]):
        name, word, geometry = objects[i]
        beyond = geometry.difference(base)
        remedy = "Move it, or make the back sheet larger."
        if i < len(case.card.strips):
            remedy = "Shorten or move it, or make the back sheet larger."
        yield Finding(
            CODE,
            "stop",
            inner_place(beyond),
            (name,),
            f"{word} hangs {mm(farthest(beyond, base))} over the back sheet.",
            remedy,
        )


def outside(case: Case, geometries: Sequence[BaseGeometry]) -> list[int]:
    """Which of some geometries reach more than the allowed bit beyond the base."""
    if case.card.base.is_empty or not geometries:
        return []
    room = case.card.base.buffer(ALLOWED + TOLERANCE, quad_segs=16)
    shapely.prepare(room)
    inside = shapely.covers(room, list(geometries))
    return [i for i, ok in enumerate(inside) if not ok]
