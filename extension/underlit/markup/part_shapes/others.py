"""Switches, resistors, pull tabs and insulating patches.

No profile knows their sizes yet: those below are proposed, to be revised by use.
"""

from __future__ import annotations

from math import floor, log10

import numpy as np

from ...language import decimal, say
from ...profiles import CellType
from ...units import FLATNESS
from .drawing import Box, Paint, PartDrawing, PartShape, Rings, centred, polyline
from .feet import BOLD, HAIR, INK, METAL, PAPER, dot

#: Stick-on switch (mm): body, contact, distance of the contacts' middles.
SWITCH = ((13.0, 6.0), (3.0, 4.0), 9.0)

#: Stick-on resistor (mm), the size of a stick-on light.
RESISTOR = ((12.0, 5.0), (3.0, 3.0), 8.0)

#: Paper tab (mm): width, and how far it reaches past the middle of the battery.
TAB_WIDTH = 12.0
TAB_BACK = 8.0

#: Paper that insulates.
PATCH = Paint("#f6f3e9", "#8a8577", HAIR)

#: Colours of the figures 0 to 9 on resistors (IEC 60062).
FIGURES = ("#000000", "#7a4a21", "#d12b1f", "#f08c1a", "#f2d32c",
           "#2f9e44", "#2b5fc4", "#8a4bb8", "#8a8f96", "#ffffff")  # fmt: skip

SILVER, GOLD = "#c0c4c9", "#c9a227"

#: Share by which the hole of a rim patch is smaller than the cap, so that it covers its edge.
WITHIN_CAP = 0.925

#: How far beyond a battery's edge its rim still counts (mm), as the rule of the rim has it.
AROUND_RIM = 1.0


def switch(closes: str = "slide") -> PartDrawing:
    """A switch about its middle, `contact-2` towards +x. `closes` is press or slide, say."""
    _, pad, pitch = SWITCH
    inner = (pitch - pad[0]) / 2.0 - 0.7
    left, right = (-inner, 0.9), (inner, 0.9)
    if closes == "press":
        strokes = [((-inner, -0.5), (inner, -0.5)), ((0.0, -0.5), (0.0, -1.9)),
                   ((-0.9, -1.9), (0.9, -1.9))]  # fmt: skip
    else:
        strokes = [(left, (inner - 0.4, -1.3))]
    lines = [PartShape(polyline(*line), None, Paint(None, INK, BOLD)) for line in strokes]
    shapes = (*_two_contacts(*SWITCH), *lines, dot(left, 0.4), dot(right, 0.4))
    kinds = {"press": say("push button"), "slide": say("slide switch")}
    title = say("Switch, {kind}", kind=kinds.get(closes, closes))
    return PartDrawing("switch", title, {"closes": closes}, shapes)


def resistor(ohms: float) -> PartDrawing:
    """A resistor about its middle, with the colour bands of its value (IEC 60062).

    `ohms` from 0.1 up; the bands show two figures.
    """
    rod = PartShape(centred((0.0, 0.0), 4.4, 2.2, 0.5), None, Paint("#e9dcc0", INK, HAIR))
    bands = [
        PartShape(centred((x, 0.0), 0.7, 2.2), None, Paint(colour, INK, HAIR / 4.0))
        for x, colour in zip((-1.3, -0.2, 0.9), _bands(ohms), strict=True)
    ]
    words = f"{ohms:g}"
    shapes = (*_two_contacts(*RESISTOR), rod, *bands)
    return PartDrawing(
        "resistor", say("Resistor, {ohms} ohm", ohms=decimal(words)), {"ohms": words}, shapes
    )


def pull_tab(length: float, width: float = TAB_WIDTH, back: float = TAB_BACK) -> PartDrawing:
    """A paper strip from under a battery towards +x; the origin is the battery's middle.

    `length` from the battery's middle to the end that is pulled, `back` the other way (mm).
    """
    paint = Paint("#f3ead2", "#6f695c", HAIR, opacity=0.85)
    x = length - 2.2
    grip = [
        PartShape(polyline((x - dx, -width / 3.0), (x - dx, width / 3.0)), None, _RIB)
        for dx in (0.0, 1.2, 2.4)
    ]
    corner = min(1.5, width / 4.0)
    body = PartShape(Box(-back, -width / 2.0, length + back, width, corner), "body", paint)
    return PartDrawing("pull-tab", say("Pull tab of paper"), {}, (body, *grip))


def patch(width: float, height: float) -> PartDrawing:
    """A rectangle of insulating paper about its middle; belongs on the Tape layer.

    What it paints is exactly width x height (mm), edge line included.
    """
    box = centred((0.0, 0.0), width - HAIR, height - HAIR)
    wide, high = decimal(f"{width:g}"), decimal(f"{height:g}")
    title = say("Paper patch, {wide} x {high} mm", wide=wide, high=high)
    return PartDrawing("patch", title, {}, (PartShape(box, None, PATCH),))


def rim_patch(name: str, kind: CellType, margin: float) -> PartDrawing:
    """A paper ring that keeps minus tape off the rim of a bare battery; for the Tape layer.

    It reaches `margin` (the profile's patch margin, mm) beyond where the rim counts, and leaves
    the middle of the cap open.
    """
    outer = kind.diameter / 2.0 + AROUND_RIM + margin
    inner = kind.cap_radius * WITHIN_CAP
    rings = Rings((circle(outer - HAIR / 2.0), circle(inner + HAIR / 2.0)))
    title = say("Paper ring for the rim of {cell}", cell=name.upper())
    return PartDrawing("patch", title, {}, (PartShape(rings, None, PATCH),))


_RIB = Paint(None, "#6f695c", BOLD)


def circle(radius: float) -> np.ndarray:
    """A ring of points (n, 2) on a circle about the origin that strays less than `FLATNESS`."""
    count = 4 * int(np.ceil(np.pi / 4.0 / np.arccos(1.0 - FLATNESS / radius)))
    turns = np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)
    return radius * np.column_stack((np.cos(turns), np.sin(turns)))


def _two_contacts(
    body: tuple[float, float], pad: tuple[float, float], pitch: float
) -> tuple[PartShape, ...]:
    corner = 0.16 * min(body)
    return (
        PartShape(centred((0.0, 0.0), *body, corner), "body", PAPER),
        PartShape(centred((-pitch / 2.0, 0.0), *pad), "contact-1", METAL),
        PartShape(centred((pitch / 2.0, 0.0), *pad), "contact-2", METAL),
    )


def _bands(ohms: float) -> tuple[str, str, str]:
    """Two figures and the number of noughts (gold and silver: a tenth, a hundredth)."""
    noughts = max(floor(log10(ohms) + 1e-9) - 1, -2)
    figures = round(ohms / 10.0**noughts)
    if figures > 99:
        figures, noughts = figures // 10, noughts + 1
    times = (*FIGURES, SILVER, GOLD)[min(noughts, 9)]
    return (FIGURES[figures // 10], FIGURES[figures % 10], times)
