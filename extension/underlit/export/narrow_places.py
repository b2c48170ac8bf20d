"""Places too narrow for the knife or for tape: strips, slots, holes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon

from ..language import figure, hundredths, later, say, say_count
from ..model.case import Case
from .caution import Caution, piece_name, sheet_name
from .cut import Piece
from .measuring import UNDER, by_shape, narrow, smallest_feature

#: A part of a piece that is no narrow place but a sharp corner (mm2).
CORNER = 0.05


def narrow_tape(case: Case, pieces: Sequence[Piece]) -> list[Caution]:
    limit = case.profile.limits.narrowest_tape
    text = later("{piece} is only {width} mm wide at one place; tape wants {limit}.")
    return _narrow(pieces, limit, text, say("Widen it, or lay it with care: it may tear."))


def narrow_paper(case: Case, material: str, pieces: Sequence[Piece]) -> list[Caution]:
    if material in {"patches", "tape"}:
        return []
    limit = case.profile.cutter.smallest_feature
    text = later("{piece} is only {width} mm wide at one place; the knife wants {limit}.")
    return _narrow(pieces, limit, text, say("Widen it, or it tears when you peel it off."))


def _narrow(pieces: Sequence[Piece], limit: float, text: str, remedy: str) -> list[Caution]:
    """Pieces with a place narrower than a limit."""
    if not pieces:
        return []
    bad = narrow(np.array([piece.area for piece in pieces], dtype=object), limit)
    found = []
    for piece in (piece for piece, is_bad in zip(pieces, bad.tolist(), strict=True) if is_bad):
        width = smallest_feature([piece.area], limit) or 0.0
        found.append(
            Caution(
                "feature",
                (piece.label,),
                _narrow_place(piece.area, limit),
                say(
                    text,
                    piece=piece_name(piece),
                    width=hundredths(width),
                    limit=figure(limit),
                ),
                remedy,
            )
        )
    return found


def _narrow_place(area: Polygon, width: float) -> tuple[float, float]:
    """The middle of the largest part that is narrower than a width."""
    opened = area.buffer(-width / 2.0, join_style="mitre").buffer(width / 2.0, join_style="mitre")
    parts: Iterable[Polygon] = shapely.get_parts(area.difference(opened))
    largest = max((p for p in parts if p.area > CORNER), key=lambda p: float(p.area), default=area)
    point = largest.representative_point()
    return (float(point.x), float(point.y))


def narrow_slots(case: Case, pieces: Sequence[Piece]) -> list[Caution]:
    """Slots in the outline of one piece: the waste in them is too narrow to be weeded whole."""
    limit = case.profile.cutter.smallest_feature
    areas = np.array([piece.area for piece in pieces], dtype=object)
    if not len(areas):
        return []
    first, same = by_shape(areas)
    filled = _closed(areas[first], limit - UNDER)
    more = shapely.area(filled) - shapely.area(areas[first])
    grown = np.flatnonzero(more[same] > 2.0 * limit**2)
    found = []
    for piece in (pieces[k] for k in grown.tolist()):
        slots = _slots(piece.area, limit)
        if slots:
            point = slots[0].representative_point()
            found.append(
                Caution(
                    "slot",
                    (piece.label,),
                    (float(point.x), float(point.y)),
                    say(
                        "{piece} leaves a slot of less than {limit} mm between two of its edges: "
                        "the waste in it tears when you weed it.",
                        piece=piece_name(piece),
                        limit=figure(limit),
                    ),
                    say("Close the slot, or make it wider."),
                )
            )
    return found


def _slots(area: Polygon, limit: float) -> list[Polygon]:
    """What a knife's way cuts out that is narrower than a limit and longer than twice that."""
    filled = _closed(np.array([area], dtype=object), limit - UNDER)[0]
    parts = shapely.get_parts(shapely.difference(filled, area))
    return [p for p in parts if p.area > 2.0 * limit**2 and not _in_hole(p, area)]


def _in_hole(part: Polygon, area: Polygon) -> bool:
    """Whether a slot is all of a hole: those are told as holes."""
    holes = (Polygon(ring) for ring in area.interiors)
    return any(hole.area <= part.area + CORNER and hole.intersects(part) for hole in holes)


def _closed(areas: np.ndarray, width: float) -> np.ndarray:
    """Areas with everything filled in that is narrower than a width."""
    grown = shapely.buffer(areas, width / 2.0, join_style="mitre")
    return np.asarray(shapely.buffer(grown, -width / 2.0, join_style="mitre"))


def small_holes(case: Case, material: str, pieces: Sequence[Piece]) -> list[Caution]:
    """Holes that the knife cannot turn in."""
    limit = case.profile.cutter.smallest_hole
    holes = [(p, Polygon(ring)) for p in pieces for ring in p.area.interiors]
    if not holes:
        return []
    areas = np.array([hole for _, hole in holes], dtype=object)
    small = shapely.is_empty(shapely.buffer(areas, -limit / 2.0 + 0.002))
    tight = [holes[k] for k in np.flatnonzero(small).tolist()]
    if not tight:
        return []
    widths = [2.0 * float(shapely.maximum_inscribed_circle(hole).length) for _, hole in tight]
    point = tight[int(np.argmin(widths))][1].representative_point()
    return [
        Caution(
            "hole",
            tuple(dict.fromkeys(piece.label for piece, _ in tight)),
            (float(point.x), float(point.y)),
            say_count(
                "A hole in {material} is only {least} mm wide; the knife wants {limit}.",
                "{number} holes in {material} are only {least} to {most} mm wide; the knife wants "
                "{limit}.",
                len(tight),
                material=sheet_name(material, material),
                least=hundredths(min(widths)),
                most=hundredths(max(widths)),
                limit=figure(limit),
            ),
            say_count(
                "Make it larger, or prick it.", "Make them larger, or prick them.", len(tight)
            ),
        )
    ]
