"""off-base: tape or a part hangs over the back sheet.

More than 0.3 mm beyond the edge (what a hand does not see) is marked. Pull tabs are meant to
stick out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.places import farthest, inner_place
from ..language import mm, say
from ..model.case import Case
from ..model.finding import Finding
from ..units import TOLERANCE

CODE = "off-base"

#: What may stick out unseen (mm).
ALLOWED = 0.3


def check(case: Case) -> Iterator[Finding]:
    """One finding per object."""
    base = case.card.base
    if base.is_empty:
        return
    objects = [(strip.name, "", strip.geometry) for strip in case.card.strips]
    objects += [(part.id, case.call(part), part.body) for part in case.bodies]
    for i in outside(case, [geometry for _, _, geometry in objects]):
        name, word, geometry = objects[i]
        beyond = geometry.difference(base)
        far = mm(farthest(beyond, base))
        if i < len(case.card.strips):
            message = say("This strip hangs {far} over the back sheet.", far=far)
            remedy = say("Shorten or move it, or make the back sheet larger.")
        else:
            message = say("{part} hangs {far} over the back sheet.", part=word, far=far)
            remedy = say("Move it, or make the back sheet larger.")
        yield Finding(CODE, "stop", inner_place(beyond), (name,), message, remedy)


def outside(case: Case, geometries: Sequence[BaseGeometry]) -> list[int]:
    """Which of some geometries reach more than the allowed bit beyond the base."""
    if case.card.base.is_empty or not geometries:
        return []
    room = case.card.base.buffer(ALLOWED + TOLERANCE, quad_segs=16)
    shapely.prepare(room)
    inside = shapely.covers(room, list(geometries))
    return [i for i, ok in enumerate(inside) if not ok]
