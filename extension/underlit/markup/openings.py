"""The Openings layer: one numbered, tinted shape per opening, to be clicked. Page mm."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from ..language import say
from ..model.card import Opening
from .labels import fitting, words_box
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
#: not be legible and stand BESIDE the shape (mm), ROUND from a light. Longer ones are smaller.
SMALLEST, LARGEST = 2.2, 6.0
SHARE = 0.6
BESIDE = 0.6
ROUND = 0.3
WIDTHS = (1.0, 1.0, 0.9, 0.65, 0.5, 0.4, 0.35)

#: Numbers keep out of the middle of windows wide enough for that: a light will cover it. How far
#: the rounded corners of the shipped sticker's body reach, and the sizes that are tried (mm).
LIGHT_REACH = 6.2
CLEAR_SIZES = (LARGEST, 4.5, 3.5, 2.8, SMALLEST)

#: Outlines of tints follow the opening within this (mm): they are for clicking, not for cutting.
COARSE = 0.02

#: From the baseline to the middle of a digit, as a share of the size of the type.
HALF_DIGIT = 0.36

#: How large the number of a separate piece may be (mm); the smallest also stands beside it.
PIECE_SIZES = (9.0, 6.5, 4.5, 3.0)

#: Words and pieces that meet in no more than this only touch (mm2).
TOUCH = 1e-6

#: A separate piece: its number, its outline and the windows in it.
PieceShape = tuple[int, BaseGeometry, Sequence[BaseGeometry]]


def opening_groups(
    openings: Sequence[Opening], lights: Sequence[BaseGeometry] = ()
) -> tuple[Group, ...]:
    """One group per opening, in the order of their numbers; `lights` hide what is written there."""
    labels = numbers(openings, lights)
    areas = [o.clear if not o.clear.is_empty else o.outline for o in openings]
    plain = shapely.simplify(areas, COARSE) if areas else []
    return tuple(
        _group(o, area, label) for o, area, label in zip(openings, plain, labels, strict=True)
    )


def numbers(openings: Sequence[Opening], lights: Sequence[BaseGeometry] = ()) -> list[Text]:
    """The number of each opening: where it is widest, or beside it; not where a light hides it."""
    areas = [o.clear if not o.clear.is_empty else o.outline for o in openings]
    bodies, drawn = shapely.STRtree(list(lights)), shapely.STRtree([*lights, *areas])
    found = []
    for opening, area in zip(openings, areas, strict=True):
        over = bodies.geometries[sorted(bodies.query(area, predicate="intersects"))]
        text = str(opening.number)
        found.append(_past(area, over, text, drawn) if len(over) else _label(area, text))
    return found


def piece_groups(pieces: Sequence[PieceShape]) -> tuple[Group, ...]:
    """The numbers of separate pieces: on the paper of each, clear of its windows.

    Where there is no room a number stands beside its piece, clear of all others.
    """
    taken: list[BaseGeometry] = [outline for _, outline, _ in pieces]
    found = []
    for number, outline, windows in pieces:
        text = say("Piece {number}", number=number)
        paper = outline.difference(shapely.union_all(list(windows))) if windows else outline
        centre = outline.envelope.centroid
        fit = fitting(text, paper, PIECE_SIZES, (centre.x, centre.y))
        if fit is None:
            fit = _beside(text, outline, taken), PIECE_SIZES[-1]
            taken.append(shapely.box(*words_box(text, *fit)))
        found.append(
            Group(
                f"piece-{number}", text, (_number(fit[0], text, fit[1]),), (("piece", str(number)),)
            )
        )
    return tuple(found)


def _beside(text: str, outline: BaseGeometry, taken: Sequence[BaseGeometry]) -> Point:
    """The first free place above, below, right or left of a piece; its middle where none is."""
    x0, y0, x1, y1 = outline.bounds
    left, top, right, bottom = words_box(text, (0.0, 0.0), PIECE_SIZES[-1])
    middle = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    places = (
        (middle[0], y0 - bottom),
        (middle[0], y1 - top),
        (x1 - left, middle[1]),
        (x0 - right, middle[1]),
    )
    tree = shapely.STRtree(list(taken))
    for place in places:
        box = shapely.box(*words_box(text, place, PIECE_SIZES[-1]))
        hits = tree.query(box, predicate="intersects")
        if all(taken[i].intersection(box).area < TOUCH for i in hits):
            return place
    return middle


def base_region(area: BaseGeometry) -> Region:
    """A back sheet as an area to be drawn."""
    return Region(_rings(area), SHEET, SHEET_OPACITY, SHEET_EDGE, EDGE_WIDTH)


def _group(opening: Opening, area: BaseGeometry, label: Text) -> Group:
    tint = Region(_rings(area), TINT, OPACITY, EDGE, EDGE_WIDTH)
    number = opening.number
    return Group(
        str(number),
        (
            say("Glow area {number}", number=number)
            if opening.through
            else say("Window {number}", number=number)
        ),
        (tint, label),
        (("opening", opening.name),),
    )


def _label(area: BaseGeometry, text: str) -> Text:
    """The number where the area is widest, or beside an area that is too small for it."""
    circle = shapely.maximum_inscribed_circle(max(shapely.get_parts(area), key=shapely.area))
    (x, y), radius = shapely.get_coordinates(circle)[0], circle.length
    if radius > LIGHT_REACH:
        clear = area.difference(shapely.Point(x, y).buffer(LIGHT_REACH))
        fit = fitting(text, clear, CLEAR_SIZES, area.bounds[:2])
        if fit is not None:
            return _number(fit[0], text, fit[1])
    size = min(LARGEST, SHARE * 2.0 * radius * WIDTHS[len(text)])
    if size >= SMALLEST:
        return _number((float(x), float(y)), text, size)
    at = (area.bounds[2] + BESIDE, float(y) + HALF_DIGIT * SMALLEST)
    return Text(at, text, SMALLEST, True, "start", INK)


def _past(
    area: BaseGeometry, over: Sequence[BaseGeometry], text: str, drawn: shapely.STRtree
) -> Text:
    """The number where the bodies `over` an area leave room for it, or on a free side of all."""
    free = area.difference(shapely.union_all(shapely.buffer(over, ROUND)))
    fit = fitting(text, free, CLEAR_SIZES, area.bounds[:2])
    if fit is not None:
        return _number(fit[0], text, fit[1])
    left, top, right, bottom = shapely.total_bounds([area, *over]).tolist()
    x0, y0, x1, y1 = words_box(text, (0.0, 0.0), SMALLEST)
    x, y = area.centroid.x, area.centroid.y
    spots = (
        (right + BESIDE - x0, y),
        (left - BESIDE - x1, y),
        (x, top - BESIDE - y1),
        (x, bottom + BESIDE - y0),
    )
    for spot in spots:
        box = shapely.box(*words_box(text, spot, SMALLEST))
        if not len(drawn.query(box, predicate="intersects")):
            return _number(spot, text, SMALLEST)
    return _number(spots[0], text, SMALLEST)


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
