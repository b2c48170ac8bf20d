"""part-resized: a part drawn larger, smaller or mirrored.

Real lights and batteries come in one size: a part scaled by more than 1 %, or mirrored, no
longer says where its feet are. Turning and moving are fine.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from ..language import say
from ..model.card import PADS, Part
from ..model.case import Case
from ..model.finding import Finding

CODE = "part-resized"

#: How far a scale may be from 1.
ALLOWED = 0.01


def check(case: Case) -> Iterator[Finding]:
    """One finding per part."""
    for part in case.bodies:
        if part.mirrored:
            yield Finding(
                CODE,
                "caution",
                part.at,
                (part.id,),
                say("{part} is mirrored: its feet are on the wrong sides.", part=case.call(part)),
                say("Flip it back, then turn it instead."),
            )
        elif (scale := _wrong_size(case, part)) is not None:
            large, small = sorted(scale, reverse=True)
            size = f"{large * 100:.0f} %"
            if large - small > ALLOWED:
                size = say("{low} by {high} %", low=round(small * 100), high=round(large * 100))
            yield Finding(
                CODE,
                "caution",
                part.at,
                (part.id,),
                say("{part} is drawn at {size} of its size.", part=case.call(part), size=size),
                say("Undo the resizing, or drag in a new one."),
            )


def _wrong_size(case: Case, part: Part) -> tuple[float, float] | None:
    """The factors that a part is drawn at where they are wrong.

    A body that measures what the profile says is right whatever was done to it. A part that is
    not scaled itself may stand in a group that is, or be written out at the wrong size: a light
    shows that by its body and its feet having grown alike.
    """
    measured = _measured(case, part)
    if measured is not None and not _off(measured):
        return None
    if _off(part.scale):
        return part.scale
    if measured is None or part.kind != "light":
        return None
    plus, minus = (part.features[pad].centroid for pad in PADS["light"])
    pitch = plus.distance(minus) / case.profile.lights[part.type].pad_pitch
    alike = max(*measured, pitch) - min(*measured, pitch) <= ALLOWED * pitch
    return measured if alike else None


def _off(scale: tuple[float, float]) -> bool:
    return any(abs(s - 1.0) > ALLOWED + 1e-4 for s in scale)


def _measured(case: Case, part: Part) -> tuple[float, float] | None:
    """Sides of the body over those of the profile, None where the profile does not know."""
    if part.kind == "light" and part.type in case.profile.lights:
        wanted = sorted(case.profile.lights[part.type].body)
    elif part.kind == "cell" and part.type in case.profile.cells:
        wanted = [case.profile.cells[part.type].diameter] * 2
    else:
        return None
    box = np.asarray(shapely.oriented_envelope(part.body).exterior.coords)
    sides = sorted(np.hypot(*np.diff(box[:3], axis=0).T).tolist())
    return (sides[1] / wanted[1], sides[0] / wanted[0])
