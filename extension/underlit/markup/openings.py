"""The Openings layer: one numbered, tinted shape per opening, to be clicked. Page mm."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from ..model.card import Opening
from .primitives import Group, Point, Region, Text

#: A pale tint over any paper, with an edge that shows on white and on black; the number on it.
TINT = "#8fb7c9"
OPACITY = 0.35
EDGE = "#2f6f86"
EDGE_WIDTH = 0.25
INK = "#16303a"

#: A back sheet drawn by the tool: a faint paper with an edge.
SHEET = "#d9d4c5"
SHEET_OPACITY = 0.25
SHEET_EDGE = "#6f6650"

#: Numbers are at most LARGEST, and SHARE of the widest place; smaller than SMALLEST they would
#: not be legible and stand BESIDE the shape (mm). Longer ones have to be smaller.
SMALLEST, LARGEST = 2.2, 6.0
SHARE = 0.6
BESIDE = 0.6
WIDTHS = (1.0, 1.0, 0.9, 0.65, 0.5, 0.4, 0.35)

#: Outlines of tints follow the opening within this (mm): they are for clicking, not for cutting.
COARSE = 0.02

#: From the baseline to the middle of a digit, as a share of the size of the type.
HALF_DIGIT = 0.36

#: How large the number of a separate piece is (mm).
PIECE_SIZE = 9.0


def opening_groups(openings: Sequence[Opening]) -> tuple[Group, ...]:
    """One group per opening, in the order of their numbers."""
    areas = [o.clear if not o.clear.is_empty else o.outline for o in openings]
    plain = shapely.simplify(areas, COARSE) if areas else []
    return tuple(_group(o, area) for o, area in zip(openings, plain, strict=True))


def piece_groups(places: Sequence[Point]) -> tuple[Group, ...]:
    """The numbers 1.. of separate pieces, at their places."""
    return tuple(
        Group(
            f"piece-{number}",
            f"Piece {number}",
            (_number(place, f"Piece {number}", PIECE_SIZE),),
            (("piece", str(number)),),
        )
        for number, place in enumerate(places, 1)
    )


def base_region(area: BaseGeometry) -> Region:
    """A back sheet as an area to be drawn."""
    return Region(_rings(area), SHEET, SHEET_OPACITY, SHEET_EDGE, EDGE_WIDTH)


def _group(opening: Opening, area: BaseGeometry) -> Group:
    tint = Region(_rings(area), TINT, OPACITY, EDGE, EDGE_WIDTH)
    kind = "Glow area" if opening.through else "Window"
    return Group(
        str(opening.number),
        f"{kind} {opening.number}",
        (tint, _label(area, str(opening.number))),
        (("opening", opening.name),),
    )


def _label(area: BaseGeometry, text: str) -> Text:
    """The number where the area is widest, or beside an area that is too small for it."""
    circle = shapely.maximum_inscribed_circle(max(shapely.get_parts(area), key=shapely.area))
    (x, y), radius = shapely.get_coordinates(circle)[0], circle.length
    size = min(LARGEST, SHARE * 2.0 * radius * WIDTHS[len(text)])
    if size >= SMALLEST:
        return _number((float(x), float(y)), text, size)
    at = (area.bounds[2] + BESIDE, float(y) + HALF_DIGIT * SMALLEST)
    return Text(at, text, SMALLEST, True, "start", INK)


def _number(at: Point, text: str, size: float) -> Text:
    return Text((at[0], at[1] + HALF_DIGIT * size), text, size, True, "middle", INK)


def _rings(area: BaseGeometry) -> tuple[tuple[Point, ...], ...]:
    """Every ring of an area, its first point not repeated."""
    lines = [
        ring
        for part in shapely.get_parts(area)
        if part.geom_type == "Polygon"
        for ring in (part.exterior, *part.interiors)
    ]
    return tuple(
        tuple((float(x), float(y)) for x, y in shapely.get_coordinates(line)[:-1]) for line in lines
    )
