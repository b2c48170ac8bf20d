"""light-unfed: no way from the battery to a foot of a light.

The foot touches no tape, or the tape under it leads to no battery (also where a strip is cut
off behind the light). Says how far the next right strip is. Where a card has no battery, or
no tape at all, that is said once instead.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from ..model.card import PADS, Part
from ..model.case import Case
from ..model.circuit import SIGN
from ..model.finding import Finding
from .wording import FOOT, SIDE, mm

CODE = "light-unfed"


def check(case: Case) -> Iterator[Finding]:
    """One finding per foot."""
    if not (case.powered and case.card.strips):
        return
    for light in case.card.lights:
        if same_net(case, light):
            continue
        for pad in PADS["light"]:
            net = case.circuit.pad_net(light, pad)
            alone = len(net.conductors) == 1
            if alone or not net.fed:
                yield _finding(case, light, pad, alone)


def same_net(case: Case, light: Part) -> bool:
    """Both feet on one piece of circuit: `light-shorted` says so."""
    index, net_of = case.circuit.pad_index, case.circuit.net_of
    first, second = (net_of[index[light.id, pad]] for pad in PADS["light"])
    return first == second


def _finding(case: Case, light: Part, pad: str, alone: bool) -> Finding:
    side = SIDE[SIGN[pad]]
    area = light.features[pad]
    far = _next_strip(case, area, SIGN[pad])
    name = case.inner(light)
    short = f" ({mm(far)} short)" if far is not None and far > 0.0 else ""
    if alone:
        message = f"No tape reaches the {FOOT[pad]} of {name}{short}."
        remedy = f"Lengthen the nearest {side} strip so that it lies under the whole foot."
    else:
        message = f"The tape at the {FOOT[pad]} of {name} has no way to the battery{short}."
        remedy = f"Join it to the {side} tape with an overlap of a tape's width."
    at = area.centroid
    return Finding(CODE, "stop", (at.x, at.y), (light.id,), message, remedy)


def _next_strip(case: Case, area: shapely.Geometry, sign: str) -> float | None:
    """How far the next strip of the right side is from a foot, None where there is none."""
    _, far = case.strips_of(sign).query_nearest(area, all_matches=False, return_distance=True)
    return float(far[0]) if len(far) else None
