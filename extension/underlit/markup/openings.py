"""The Openings layer: one numbered, tinted shape per opening, to be clicked. Page mm."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from ..language import say
from ..model.card import Opening
from .labels import fitting, words_box
from .numbering import clear_area, number_at, numbers
from .primitives import Group, Point, Region, Text

#: A pale tint over any paper, with an edge that shows on white and on black; the number on it.
TINT = "#8fb7c9"
OPACITY = 0.35
EDGE = "#2f6f86"
EDGE_WIDTH = 0.25

#: A back sheet drawn by the tool: a faint paper with an edge.
SHEET = "#d9d4c5"
SHEET_OPACITY = 0.25
SHEET_EDGE = "#6f6650"

#: Outlines of tints follow the opening within this (mm): they are for clicking, not for cutting.
COARSE = 0.02

#: How large the number of a separate piece may be (mm); the smallest also stands beside it.
PIECE_SIZES = (9.0, 6.5, 4.5, 3.0)

#: Words and pieces that meet in no more than this only touch (mm2).
TOUCH = 1e-6

#: A separate piece: its number, its outline and the windows in it.
PieceShape = tuple[int, BaseGeometry, Sequence[BaseGeometry]]


def opening_groups(
    openings: Sequence[Opening],
    lights: Sequence[BaseGeometry] = (),
    tape: Sequence[BaseGeometry] = (),
) -> tuple[Group, ...]:
    """One group per opening, in their order; `lights` and `tape` hide what is written there."""
    labels = numbers(openings, lights, tape)
    areas = [clear_area(opening) for opening in openings]
    plain = shapely.simplify(areas, COARSE) if areas else []
    return tuple(
        _group(o, area, label) for o, area, label in zip(openings, plain, labels, strict=True)
    )


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
                f"piece-{number}",
                text,
                (number_at(fit[0], text, fit[1]),),
                (("piece", str(number)),),
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
