"""cell-rim-touch: minus tape under the rim of a bare battery.

Can and rim of a coin battery are plus, only the small cap is minus (IEC 60086-2 cells;
cap radius by profile). Minus tape in the ring from the cap to 1 mm beyond the battery's edge
needs a patch between: above the strip where the plus side is up, below it otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from ..connectivity.contacts import PatchStack, is_bare
from ..connectivity.folding import Flap, flaps_of
from ..language import mm, say
from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding

CODE = "cell-rim-touch"

#: How far beyond the battery's edge its rim still counts (mm).
AROUND = 1.0

#: Bare tape smaller than this in the ring is drawing noise (mm2).
NOISE = 0.01


def check(case: Case) -> Iterator[Finding]:
    """One finding per strip."""
    flaps = {flap.cell.id: flap for flap in flaps_of(case.card)}
    stack = PatchStack(case.card.patches)
    for cell in case.card.cells:
        kind = case.profile.cells.get(cell.type)
        flap = flaps.get(cell.id)
        if kind is None or not is_bare(cell, _apart(cell, flap)):
            continue
        centre = cell.body.centroid
        outer = centre.buffer(kind.diameter / 2.0 + AROUND, quad_segs=32)
        ring = outer.difference(centre.buffer(kind.cap_radius, quad_segs=32))
        yield from _ring(case, cell, ring, stack, flap)


def _apart(cell: Part, flap: Flap | None) -> str | None:
    """The pad that is drawn on an open flap, if any."""
    if flap is None:
        return None
    pads = ("positive-pad", "negative-pad")
    return next((pad for pad in pads if flap.moving.contains(cell.features[pad].centroid)), None)


def _ring(
    case: Case, cell: Part, ring: BaseGeometry, stack: PatchStack, flap: Flap | None
) -> Iterator[Finding]:
    side = "above" if cell.attributes.get("up") == "minus" and flap is None else "below"
    landing = flap.land(ring) if flap is not None else None
    for conductor, sign in zip(case.circuit.conductors, case.signs, strict=True):
        strip = conductor.strip
        if strip is None or sign != "negative":
            continue
        zones = [ring if flap is None else ring.difference(flap.moving)]
        if flap is not None and landing is not None:
            zones.append(landing.intersection(flap.moving))
        bare = shapely.union_all(
            [stack.uncovered(strip, side, strip.geometry).intersection(z) for z in zones]
        )
        if bare.area > NOISE:
            at = max(shapely.get_parts(bare), key=lambda p: p.area).centroid
            yield Finding(
                CODE,
                "stop",
                (at.x, at.y),
                (strip.name, cell.id),
                say("Minus tape lies bare under the battery's rim, and the rim is plus."),
                say(
                    "Lay paper tape over the strip up to {beyond} beyond the battery's edge, with "
                    "a hole for the middle.",
                    beyond=mm(AROUND),
                ),
            )
