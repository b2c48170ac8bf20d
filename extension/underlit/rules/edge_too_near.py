"""edge-too-near: tape close to the edge of the back sheet.

Tape nearer the edge than `edge-margin` shows or frays. Not where it already hangs over
(`off-base`). A flap is judged as it lies when folded; at the fold line itself there is no edge.
Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..connectivity.folding import flaps_of, folded
from ..connectivity.gaps import closest_place
from ..language import figure, say
from ..model.case import Case
from ..model.finding import Finding
from ..units import TOLERANCE
from .off_base import outside
from .wording import against

CODE = "edge-too-near"


def check(case: Case) -> Iterator[Finding]:
    """One finding per strip."""
    card, margin = case.card, case.profile.limits.edge_margin
    if card.base.is_empty or not card.strips:
        return
    strips = [strip.geometry for strip in card.strips]
    gone = set(outside(case, strips))
    edge, seen = _folded(case, strips)
    shapely.prepare(edge)
    near = np.flatnonzero(shapely.dwithin(edge, seen, margin - TOLERANCE)).tolist()
    for i in near:
        if i in gone:
            continue
        far = float(shapely.distance(seen[i], edge))
        at = shapely.points(closest_place(seen[i], edge, far))
        at = _drawn(case, at, strips[i], margin)
        yield Finding(
            CODE,
            "caution",
            (at.x, at.y),
            (card.strips[i].name,),
            say("Tape {far} mm from the edge.", far=against(far, margin)),
            say("{margin} mm keeps it hidden.", margin=figure(margin)),
        )


def _folded(case: Case, strips: list[BaseGeometry]) -> tuple[BaseGeometry, list[BaseGeometry]]:
    """The edge of the base and the strips, with every flap folded over."""
    base, seen = case.card.base, strips
    folds: list[BaseGeometry] = []
    for flap in flaps_of(case.card):
        base = folded(base, flap)
        seen = [folded(s, flap) if s.intersects(flap.moving) else s for s in seen]
        folds.append(flap.fold.line.buffer(0.2))
    edge = shapely.boundary(base)
    return (edge.difference(shapely.union_all(folds)) if folds else edge), seen


def _drawn(case: Case, at: BaseGeometry, strip: BaseGeometry, margin: float) -> BaseGeometry:
    """A place on the folded card, where it is on the open drawing."""
    if strip.distance(at) <= margin:
        return at
    landed = [flap.land(at) for flap in flaps_of(case.card)]
    return min([at, *landed], key=strip.distance)
