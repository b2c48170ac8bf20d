"""Pieces where they lie on the card: one frame for every sheet, corner marks, separate sheets."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ..records import record
from .cut import Piece
from .pieces import levels, overlapping, polygons, spread

#: Corner marks: how far they reach along the base's edge, and how wide they are (mm).
ARM = 10.0
MARK_WIDTH = 3.0

#: Marks keep this far from tape (mm).
MARK_CLEAR = 1.0

#: Overlaps smaller than this are a touch (mm2).
TOUCH = 1e-6


@record
class Frame:
    """The rectangle of page mm that becomes the sheet; `mirrored`: seen from behind."""

    left: float
    top: float
    width: float
    height: float
    mirrored: bool

    def place(self, area: BaseGeometry) -> BaseGeometry:
        """Page mm to sheet mm."""
        return shapely.transform(area, self.carry)

    def carry(self, points: np.ndarray) -> np.ndarray:
        """(n, 2) page mm to sheet mm."""
        moved = points - (self.left, self.top)
        if self.mirrored:
            moved[:, 0] = self.width - moved[:, 0]
        return moved


def frame_around(areas: Sequence[BaseGeometry], margin: float, mirrored: bool) -> Frame:
    """The frame of everything, with a margin all round."""
    left, top, right, bottom = (float(v) for v in shapely.total_bounds(list(areas)))
    width, height = (_tenths(size + 2.0 * margin) for size in (right - left, bottom - top))
    return Frame(left - margin, top - margin, width, height, mirrored)


def _tenths(length: float) -> float:
    """Up to the next 0.1 mm, so that sizes read well."""
    return math.ceil(round(length * 10.0, 2)) / 10.0


def placed(pieces: Sequence[Piece], frame: Frame) -> list[Piece]:
    """Pieces in the sheet's own mm."""
    return [replace(piece, area=frame.place(piece.area)) for piece in pieces]


def corner_marks(base: BaseGeometry, tape: Sequence[BaseGeometry]) -> list[Piece]:
    """Three marks outside the base whose inner edges fit its edge; none where there is no base.

    Three and not four: the sheet then fits in one way only.
    """
    filled = [Polygon(part.exterior) for part in polygons(base)]
    if not filled:
        return []
    whole = shapely.union_all(filled)
    rim = shapely.difference(shapely.buffer(whole, MARK_WIDTH, join_style="mitre"), whole)
    windows = _windows(whole)
    by = shapely.buffer(windows, MARK_CLEAR + 1.0)
    near = [area for area in tape if shapely.intersects(by, area).any()]
    if near:
        rim = shapely.difference(rim, shapely.union_all(shapely.buffer(near, MARK_CLEAR)))
    marks = []
    for window in windows:
        parts = polygons(shapely.intersection(rim, window))
        if parts:
            marks.append(max(parts, key=lambda part: float(part.area)))
    return [Piece(f"mark-{n}", mark) for n, mark in enumerate(marks, 1)]


def _windows(whole: BaseGeometry) -> list[Polygon]:
    """Where the three marks go: squares round what lies nearest to three corners of the box."""
    left, top, right, bottom = whole.bounds
    reach = ARM + MARK_WIDTH
    corners = shapely.points([(left, top), (right, top), (left, bottom)])
    places = shapely.get_coordinates(shapely.get_point(shapely.shortest_line(whole, corners), 0))
    return [shapely.box(*(at - reach), *(at + reach)) for at in places]


def crossing(pieces: Sequence[Piece], pairs: np.ndarray) -> bool:
    """Whether plus lies over minus anywhere."""
    signs = {"positive", "negative"}
    return any(
        {pieces[i].sign, pieces[j].sign} == signs
        and float(shapely.intersection(pieces[i].area, pieces[j].area).area) > TOUCH
        for i, j in pairs.tolist()
    )


def tape_sheets(pieces: Sequence[Piece]) -> list[tuple[str, list[Piece]]]:
    """(material, pieces) of every sheet in laying order; no two pieces of one sheet overlap.

    Plus and minus go on sheets of their own only where they cross. Strips that overlap cannot
    be cut from one sheet where they lie: some go on a further sheet. Which of two that conduct
    into each other lies below makes no difference; where plus and minus cross it does.
    """
    pairs = overlapping(pieces)
    apart = crossing(pieces, pairs)
    material = [_material(piece, apart) for piece in pieces]
    same = np.array([material[i] == material[j] for i, j in pairs.tolist()], dtype=bool)
    own = spread(len(pieces), pairs[same])
    keys = [(material[i], own[i]) for i in range(len(pieces))]
    order = _laying_order(keys, pairs[~same])
    if order is None:  # plus over minus here and minus over plus there: whole levels instead
        all_levels = levels(len(pieces), pairs)
        keys = [(material[i], all_levels[i]) for i in range(len(pieces))]
        order = sorted(set(keys), key=lambda key: (key[1], key[0] != "tape-positive"))
    sheets: dict[tuple[str, int], list[Piece]] = {key: [] for key in order}
    for key, piece in zip(keys, pieces, strict=True):
        sheets[key].append(piece)
    return [(key[0], members) for key, members in sheets.items()]


def _material(piece: Piece, apart: bool) -> str:
    if not apart:
        return "tape"
    return "tape-negative" if piece.sign == "negative" else "tape-positive"


def _laying_order(
    keys: Sequence[tuple[str, int]], pairs: np.ndarray
) -> list[tuple[str, int]] | None:
    """The sheets so that nothing lower comes later; None where there is no such order."""
    rest = sorted(set(keys), key=lambda key: (key[1], key[0] != "tape-positive"))
    below = {(keys[i], keys[j]) for i, j in pairs.tolist() if keys[i] != keys[j]}
    order: list[tuple[str, int]] = []
    while rest:
        ready = [k for k in rest if not any((other, k) in below for other in rest)]
        if not ready:
            return None
        order.append(ready[0])
        rest.remove(ready[0])
    return order


def layered(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """Pieces of one material on as many sheets as their overlaps need."""
    found = spread(len(pieces), overlapping(pieces)) if pieces else []
    sheets: list[list[Piece]] = [[] for _ in range(max(found, default=-1) + 1)]
    for number, piece in zip(found, pieces, strict=True):
        sheets[number].append(piece)
    return sheets
