"""Colours of parts, their feet, and the plus and minus signs on them.

Plus dark, minus light with a dark edge: the pair of the tapes, 4.9 : 1 apart in lightness, so that
grey print and every colour vision tell them apart; the sign says the rest. Each edge is of the
other lightness, so that a foot is seen on tape of its own colour. The signs are those of
IEC 60417 (5005 plus, 5006 minus), drawn as shapes.
"""

from __future__ import annotations

from .drawing import Disc, Outline, Paint, PartShape, Point, centred, polygon

PLUS = "#003f66"
MINUS = "#e69f00"
INK = "#20242b"
LIGHT = "#ffffff"

#: Widths of lines (mm): outlines, and what is meant to be seen at arm's length.
HAIR = 0.2
BOLD = 0.35

PAPER = Paint("#fffdf6", "#6f695c", HAIR, opacity=0.9)
STEEL = Paint("#e3e7eb", "#5f6873", HAIR, opacity=0.9)
METAL = Paint("#cfd4da", "#3f4750", HAIR)
THIN = Paint(None, "#5f6873", HAIR)
HINT = Paint(None, INK, HAIR, dash=(1.2, 0.8))

#: Thickness of a sign's arms over its width; at true size never thinner than a printed hairline.
ARM = 0.26

#: Width of a sign over the shorter side of its foot, and the widest sign (mm).
SHARE = 0.62
WIDEST = 3.6


def plus_foot(outline: Outline, at: Point, side: float) -> tuple[PartShape, PartShape]:
    """The plus foot with its sign at `at`; `side` is the foot's shorter side (mm)."""
    paint = Paint(PLUS, LIGHT, HAIR)
    return PartShape(outline, "positive-pad", paint), sign(at, _width(side), True, LIGHT)


def minus_foot(outline: Outline, at: Point, side: float) -> tuple[PartShape, PartShape]:
    """The minus foot with its sign at `at`; `side` is the foot's shorter side (mm)."""
    paint = Paint(MINUS, INK, HAIR)
    return PartShape(outline, "negative-pad", paint), sign(at, _width(side), False, INK)


def sign(at: Point, width: float, plus: bool, colour: str) -> PartShape:
    """A plus or minus sign about a point."""
    x, y = at
    a, b = width / 2.0, ARM * width / 2.0
    paint = Paint(colour)
    if not plus:
        return PartShape(centred(at, width, 2.0 * b), None, paint)
    corners = ((a, -b), (a, b), (b, b), (b, a), (-b, a), (-b, b))
    half = [(x + u, y + v) for u, v in corners]
    other = [(x - u, y - v) for u, v in corners]
    return PartShape(polygon(*half, *other), None, paint)


def dot(at: Point, radius: float) -> PartShape:
    """A small filled point."""
    return PartShape(Disc(at, radius), None, Paint(INK))


def _width(side: float) -> float:
    return min(SHARE * side, WIDEST)
