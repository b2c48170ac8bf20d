"""pad-barely-covered: a metal foot only just touches its tape.

All tape of its side on a foot must cover the smaller of `pad-cover` x the foot's area and
`joint-cover` x the square of the strip's width. A foot without any tape is `light-unfed`.
Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from ..language import figure, say
from ..model.card import PADS, Part
from ..model.case import Case
from ..model.finding import Finding
from ..units import TOLERANCE
from .wording import FOOT, against

CODE = "pad-barely-covered"


def check(case: Case) -> Iterator[Finding]:
    """One finding per foot."""
    for part in case.bodies:
        for pad in PADS[part.kind]:
            number = case.circuit.pad_index[part.id, pad]
            contacts = [case.circuit.contacts[i] for i in case.contacts_of.get(number, ())]
            if not contacts:
                continue
            largest = max(contacts, key=lambda c: c.area)
            width = case.circuit.conductors[largest.lower].strip.width  # type: ignore[union-attr]
            covered = float(shapely.area(shapely.union_all([c.place for c in contacts])))
            yield from _judge(case, part, pad, covered, width)


def _judge(case: Case, part: Part, pad: str, covered: float, width: float) -> Iterator[Finding]:
    limits = case.profile.limits
    area = part.features[pad]
    needed = min(limits.pad_cover * area.area, limits.joint_cover * width**2)
    if covered >= needed - TOLERANCE * width:
        return
    at = area.centroid
    yield Finding(
        CODE,
        "stop",
        (at.x, at.y),
        (part.id,),
        say(
            "The {foot} {of_part} only just touches its tape ({covered} of {area} mm², needs "
            "{needed}).",
            foot=say(FOOT[pad]),
            of_part=case.of(part),
            covered=against(covered, needed),
            area=figure(area.area),
            needed=figure(needed),
        ),
        say("Slide the strip further under it, until the whole foot lies on tape."),
    )
