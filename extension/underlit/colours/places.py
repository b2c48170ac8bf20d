"""The places of a card that pieces of other colours go into."""

from __future__ import annotations

from collections.abc import Collection, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from ..model.card import Card, LoosePiece, Opening
from ..records import record
from ..units import TOLERANCE

#: Pieces nearer to each other than this are neighbours: the eye takes them together (mm, proposed).
NEAR = 10.0

#: Smaller windows are filled only where all are asked for: no hand sets them (mm2, proposed).
SMALL = 25.0

#: Places whose middles differ less in height stand in one row (mm).
ROW = 6.0

#: Which places count: loose pieces with windows that no light shines through, those pieces alone,
#: or every window as well.
CHOICES = ("unlit", "pieces", "all")


@record
class Place:
    """Where a piece goes: `letter` on pages, `name` in the drawing, its shape (page mm).

    `lit`: a light shines through that window.
    """

    letter: str
    name: str
    window: int | None
    at: tuple[float, float]
    outline: BaseGeometry
    lit: bool


@record
class Fronts:
    """A front as it is cut: its paper, the windows that stay open, the places (page mm)."""

    paper: BaseGeometry
    windows: BaseGeometry
    places: tuple[Place, ...]

    def neighbours(self) -> tuple[tuple[int, int], ...]:
        """Pairs of places that lie near each other."""
        tree = shapely.STRtree([place.outline for place in self.places])
        a, b = tree.query(tree.geometries, predicate="dwithin", distance=NEAR)
        return tuple((int(i), int(j)) for i, j in zip(a, b, strict=True) if i < j)


def fronts_of(card: Card, lit: Collection[int], choice: str) -> Fronts:
    """Places of a card; `lit` are the numbers of windows with a light, `choice` one of `CHOICES`.

    What lies in a window or in a piece is a place of its own, or a hole in it.
    """
    paper = shapely.union_all([panel.outline for panel in card.panels])
    cut = [opening for opening in card.openings if not opening.through]
    filled = [opening for opening in cut if _counts(opening, lit, choice)]
    found: list[Opening | LoosePiece] = [*filled, *card.loose]
    whole: list[Opening | LoosePiece] = [*cut, *card.loose]
    shapes = [_bare(one, whole) for one in found]
    numbers = [one.number if isinstance(one, Opening) else None for one in found]
    places = tuple(
        Place(letter(n), found[i].name, numbers[i], found[i].at, shapes[i], numbers[i] in lit)
        for n, i in enumerate(_reading([one.at for one in found]))
    )
    holes = shapely.union_all([opening.outline for opening in cut])
    left = shapely.difference(holes, shapely.union_all(shapes)) if shapes else holes
    return Fronts(shapely.difference(paper, holes), left, places)


def letter(number: int) -> str:
    """A, B, ... Z, AA, AB, ... from 0 on."""
    head, last = divmod(number, 26)
    return (letter(head - 1) if head else "") + chr(ord("A") + last)


def _counts(opening: Opening, lit: Collection[int], choice: str) -> bool:
    if choice == "unlit":
        return opening.number not in lit and opening.outline.area >= SMALL
    return choice == "all"


def _bare(one: Opening | LoosePiece, whole: Sequence[Opening | LoosePiece]) -> BaseGeometry:
    """A shape without all that lies inside it."""
    inner = [
        other.outline
        for other in whole
        if other is not one
        and other.outline.area < one.outline.area
        and one.outline.buffer(TOLERANCE).covers(other.outline)
    ]
    return shapely.difference(one.outline, shapely.union_all(inner)) if inner else one.outline


def _reading(places: Sequence[tuple[float, float]]) -> list[int]:
    """Row by row from the top, from left to right in each."""
    rows: list[list[int]] = []
    for i in sorted(range(len(places)), key=lambda i: places[i][1]):
        if rows and places[i][1] - places[rows[-1][0]][1] <= ROW:
            rows[-1].append(i)
        else:
            rows.append([i])
    return [i for row in rows for i in sorted(row, key=lambda i: places[i][0])]
