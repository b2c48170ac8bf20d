"""Stick-on lights: body, two feet, lens."""

from __future__ import annotations

from ...language import say
from ...model.naming import light_type
from ...profiles import LightType
from .drawing import Disc, Paint, PartDrawing, PartShape, centred
from .feet import BOLD, INK, PAPER, minus_foot, plus_foot

#: Radius of the corners of a body over its shorter side.
ROUND = 0.16


def light(
    name: str, kind: LightType, *, contact: str = "below", shows: str = "opening"
) -> PartDrawing:
    """A light about its lens. `name` is its type's name in the profile.

    `contact` and `shows` are the words of the conventions; the usual ones are not written.
    """
    length, width = kind.body
    long, high = kind.pad
    reach = kind.pad_pitch / 2.0
    attributes = {"type": name}
    attributes |= {"contact": contact} if contact != "below" else {}
    attributes |= {"shows": shows} if shows != "opening" else {}
    shapes = (
        PartShape(centred((0.0, 0.0), length, width, ROUND * min(length, width)), "body", PAPER),
        *minus_foot(centred((-reach, 0.0), long, high), (-reach, 0.0), min(long, high)),
        *plus_foot(centred((reach, 0.0), long, high), (reach, 0.0), min(long, high)),
        PartShape(Disc((0.0, 0.0), kind.lens / 2.0), "lens", Paint(kind.colour, INK, BOLD)),
    )
    return PartDrawing("light", say("Light, {kind}", kind=light_type(name)), attributes, shapes)
