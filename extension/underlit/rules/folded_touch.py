"""folded-touch: what happens when the flap closes.

With the flap folded over, its tape lies face down on the other tape: plus on minus outside the
battery's body is a short; and the flap's own contact must land on the battery (at least
`pad-cover` of it).
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from ..connectivity.contacts import NOISE, PatchStack, meeting
from ..connectivity.folding import Flap, flaps_of
from ..language import mm, say
from ..model.case import Case
from ..model.finding import Finding

CODE = "folded-touch"


def check(case: Case) -> Iterator[Finding]:
    """One finding per place."""
    for flap in flaps_of(case.card):
        yield from _touches(case, flap)
        yield from _misses(case, flap)


def _touches(case: Case, flap: Flap) -> Iterator[Finding]:
    stack = PatchStack(case.card.patches)
    conductors, signs = case.circuit.conductors, case.signs
    faces = [
        c.geometry if c.strip is None else stack.uncovered(c.strip, "below", c.geometry)
        for c in conductors
    ]
    moved = shapely.intersection(faces, flap.moving)
    still = shapely.difference(shapely.difference(faces, flap.moving), flap.cell.body)
    landed = [
        (i, flap.land(moved[i]).difference(flap.cell.body))
        for i in np.flatnonzero(~shapely.is_empty(moved)).tolist()
    ]
    tree = shapely.STRtree(still)
    for i, area in landed:
        for k in sorted(tree.query(area, predicate="intersects")):
            if {signs[i], signs[k]} != {"positive", "negative"}:
                continue
            for place in meeting(area, still[k]):
                if place.area > NOISE:
                    yield _touch(case, (conductors[i].name, conductors[k].name), place)


def _touch(case: Case, names: tuple[str, str], place: shapely.Geometry) -> Finding:
    at = place.centroid
    return Finding(
        CODE,
        "stop",
        (at.x, at.y),
        tuple(dict.fromkeys(names)),
        say("When the flap closes, plus meets minus here."),
        say("Put paper tape over one of them, or shift the strip."),
    )


def _misses(case: Case, flap: Flap) -> Iterator[Finding]:
    cell = flap.cell
    on_flap = [
        cell.features[pad]
        for pad in ("positive-pad", "negative-pad")
        if flap.moving.contains(cell.features[pad].centroid)
    ]
    if not on_flap:
        centre = flap.land(cell.body).centroid
        yield Finding(
            CODE,
            "stop",
            (centre.x, centre.y),
            (cell.id,),
            say("The flap carries no contact for the battery."),
            say(
                "Draw the second contact on the open flap, where it meets the battery when folded."
            ),
        )
        return
    landed = flap.land(on_flap[0])
    hit = landed.intersection(cell.body).area
    if hit >= case.profile.limits.pad_cover * landed.area:
        return
    at = on_flap[0].centroid
    off = landed.centroid.distance(cell.body.centroid)
    yield Finding(
        CODE,
        "stop",
        (at.x, at.y),
        (cell.id,),
        say(
            "When the flap closes, its contact misses the battery (its middle lands {off} away).",
            off=mm(off),
        ),
        say("Move the fold line or the contact so that the two meet."),
    )
