"""light-unfed: no way from the battery to a foot of a light.

The foot touches no tape, or the tape under it leads to no battery (also where a strip is cut
off behind the light). Says how far the next right strip is. Where a card has no battery, or
no tape at all, that is said once instead.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from ..language import mm, say
from ..model.card import PADS, Part
from ..model.case import Case
from ..model.circuit import SIGN
from ..model.finding import Finding
from ..units import TOLERANCE
from .wording import FOOT, SIDE

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
    at = light.features[pad].centroid
    words = _bare_foot(case, light, pad) if alone else _cut_off(case, light, pad)
    return Finding(CODE, "stop", (at.x, at.y), (light.id,), *words)


def _bare_foot(case: Case, light: Part, pad: str) -> tuple[str, str]:
    """What is wrong where no tape meets the foot, and what to do."""
    side = say(SIDE[SIGN[pad]])
    words = {"foot": say(FOOT[pad]), "light": case.inner(light)}
    area = light.features[pad]
    far = _next_strip(case, [area], SIGN[pad])
    if far is None:
        message = say(
            "No tape reaches the {foot} of {light}, and no {side} tape is laid yet.",
            side=side,
            **words,
        )
        return message, say("Lay a {side} strip.", side=side)
    if far > TOLERANCE:
        return say(
            "No tape reaches the {foot} of {light} ({gap} short).", gap=mm(far), **words
        ), say("Lengthen the nearest {side} strip so that it lies under the whole foot.", side=side)
    message = say("A patch lies between the {foot} of {light} and its tape.", **words)
    return message, say("Take the patch away at the foot.")


def _cut_off(case: Case, light: Part, pad: str) -> tuple[str, str]:
    """What is wrong where the tape under the foot leads nowhere, and what to do."""
    side = say(SIDE[SIGN[pad]])
    words = {"foot": say(FOOT[pad]), "light": case.inner(light)}
    net = case.circuit.pad_net(light, pad)
    strips = [c.geometry for i in net.conductors if (c := case.circuit.conductors[i]).strip]
    far = _next_strip(case, strips, SIGN[pad])
    if far is not None and far > TOLERANCE:
        message = say(
            "The tape at the {foot} of {light} has no way to the battery ({gap} short).",
            gap=mm(far),
            **words,
        )
    else:
        message = say("The tape at the {foot} of {light} has no way to the battery.", **words)
    if far is None:
        return message, say("Join it to the battery's {side} foot.", side=side)
    if case.profile.tape.adhesive_conducts:
        return message, say(
            "Join it to the {side} tape with an overlap of a tape's width.", side=side
        )
    return message, say("Join it to the {side} tape with its end folded under.", side=side)


def _next_strip(case: Case, areas: list[shapely.Geometry], sign: str) -> float | None:
    """How far the next strip of the right side is from some areas, None where there is none."""
    tree = case.strips_of(sign)
    _, far = tree.query_nearest(areas, all_matches=False, return_distance=True)
    return float(far.min()) if len(far) else None
