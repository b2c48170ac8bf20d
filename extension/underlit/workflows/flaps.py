"""Where tape runs on a flap, and what keeps off where that lands once it is folded."""

from __future__ import annotations

import shapely

from ..connectivity.folding import Flap, flaps_of
from ..language import say
from ..model.card import PADS
from ..model.case import Case
from ..routing import Obstacle

#: Tape on a flap may be laid anew this far beside where it lay (mm).
BESIDE = 1.0

#: What lands keeps this far from tape of the other side (mm).
OFF = 0.5

OTHER = {"positive": "negative", "negative": "positive"}


def landing_obstacles(laid: Case) -> tuple[Obstacle, ...]:
    """Obstacles that part plus and minus for every flap of a card with its tape on.

    Tape of the side whose contact lies on the flap stays about where it runs there. The other
    side keeps off the flap, and off where that tape lands (the battery's body and what patches
    cover left out).
    """
    patches = [patch.geometry for patch in laid.card.patches]
    found = []
    for flap in flaps_of(laid.card):
        pad = flap_pad(flap)
        if pad is None:
            continue
        side = pad.removesuffix("-pad")
        signed = zip(laid.circuit.conductors, laid.signs, strict=True)
        tape = shapely.union_all([c.geometry for c, s in signed if c.strip and s == side])
        way = tape.intersection(flap.moving).buffer(BESIDE, join_style="mitre")
        landed = flap.land(way).difference(shapely.union_all([*patches, flap.cell.body]))
        shut = shapely.union_all([flap.moving, landed])
        found.append(Obstacle(say("the flap"), flap.moving.difference(way), 0.0, side))
        found.append(Obstacle(say("where the flap lands"), shut, OFF, OTHER[side]))
    return tuple(found)


def flap_pad(flap: Flap) -> str | None:
    """The contact of a battery that lies on its flap."""
    pads = PADS["cell"]
    return next((p for p in pads if flap.moving.contains(flap.cell.features[p].centroid)), None)
