"""part-resized: a part drawn larger, smaller or mirrored.

Real lights and batteries come in one size: a part scaled by more than 1 %, or mirrored, no
longer says where its feet are. Turning and moving are fine.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding

CODE = "part-resized"

#: How far a scale may be from 1.
ALLOWED = 0.01


def check(case: Case) -> Iterator[Finding]:
    """One finding per part."""
    for part in case.bodies:
        if part.mirrored:
            name = case.call(part)
            yield Finding(
                CODE,
                "caution",
                part.at,
                (part.id,),
                f"{name} is mirrored: its feet are on the wrong sides.",
                "Flip it back, then turn it instead.",
            )
        elif _off(part.scale) and not _life_size(case, part):
            large, small = sorted(part.scale, reverse=True)
            size = f"{large * 100:.0f} %"
            if abs(large - small) > ALLOWED:
                size = f"{small * 100:.0f} by {large * 100:.0f} %"
            yield Finding(
                CODE,
                "caution",
                part.at,
                (part.id,),
                f"{case.call(part)} is drawn at {size} of its size.",
                "Undo the resizing, or drag in a new one.",
            )


def _off(scale: tuple[float, float]) -> bool:
    return any(abs(s - 1.0) > ALLOWED + 1e-4 for s in scale)


def _life_size(case: Case, part: Part) -> bool:
    """Whether the body measures what the profile says, whatever units it was drawn in."""
    if part.kind == "light" and part.type in case.profile.lights:
        wanted = sorted(case.profile.lights[part.type].body)
    elif part.kind == "cell" and part.type in case.profile.cells:
        wanted = [case.profile.cells[part.type].diameter] * 2
    else:
        return False
    box = np.asarray(shapely.oriented_envelope(part.body).exterior.coords)
    sides = sorted(np.hypot(*np.diff(box[:3], axis=0).T))
    return all(abs(s / w - 1.0) <= ALLOWED for s, w in zip(sides, wanted, strict=True))
