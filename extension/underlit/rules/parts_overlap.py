"""parts-overlap: two parts want the same room.

Judged on the bodies; touching is allowed (tolerance 0.01 mm). A pull tab is meant to lie
under a battery and is not judged.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from ..language import mm, say
from ..model.case import Case
from ..model.finding import Finding
from ..units import TOLERANCE

CODE = "parts-overlap"


def check(case: Case) -> Iterator[Finding]:
    """One finding per pair of bodies."""
    parts = case.bodies
    bodies = [part.body for part in parts]
    tree = shapely.STRtree(bodies)
    pairs = tree.query(bodies, predicate="intersects").T.tolist() if bodies else []
    for a, b in sorted((a, b) for a, b in pairs if a < b):
        overlap = shapely.intersection(bodies[a], bodies[b])
        if overlap.buffer(-TOLERANCE / 2.0).is_empty:
            continue
        at = overlap.centroid
        deep = 2.0 * max(
            float(shapely.maximum_inscribed_circle(p).length)
            for p in shapely.get_parts(overlap)
            if p.area > 0.0
        )
        first, second = case.call(parts[a]), case.inner(parts[b])
        yield Finding(
            CODE,
            "stop",
            (at.x, at.y),
            (parts[a].id, parts[b].id),
            say(
                "{first} and {second} lie on each other (by {depth}).",
                first=first,
                second=second,
                depth=mm(deep),
            ),
            say("Move one at least {way} away.", way=mm(deep + TOLERANCE)),
        )
