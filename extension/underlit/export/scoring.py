"""Lines that are scored and not cut: folds, and lines of Die cut that do not close."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from ..model.card import Card
from .arranging import Frame
from .cut import Outline, Piece

#: What is shorter is no fold; a line nearer to an edge runs along it and is cut anyway (mm).
SHORTEST, EDGE = 1.0, 0.1

#: A line within this of another one is the same, drawn twice (mm).
SAME = 0.1


def score_lines(
    card: Card, material: str, pieces: Sequence[Piece], frame: Frame
) -> tuple[Outline, ...]:
    """Scores of one sheet in its own mm: what of each line lies on its pieces (page mm).

    A flap is folded in the base, so its line is on the panel only where they are one sheet.
    """
    lines = _lines(card, material)
    if not lines or not pieces:
        return ()
    kept = _once([part for line in lines for part in _on_paper(line, pieces)])
    return tuple(
        Outline(f"score-{n}", (frame.carry(shapely.get_coordinates(line)),))
        for n, line in enumerate(kept, 1)
    )


def _lines(card: Card, material: str) -> list[LineString]:
    folds = [fold.line for fold in card.folds if fold.line.length > 0.0]
    if material == "base":
        return folds
    if material != "panel":
        return []
    if card.base_drawn:
        folds = [fold.line for fold in card.folds if fold.cell is None and fold.line.length > 0.0]
    return [*folds, *(score.line for score in card.scores)]


def _on_paper(line: LineString, pieces: Sequence[Piece]) -> list[LineString]:
    """The stretches of a line on paper, but for those that run along an edge."""
    found = []
    for piece in pieces:
        if not shapely.intersects(piece.area, line):
            continue
        inside = line if piece.area.covers(line) else piece.area.intersection(line)
        inner = piece.area.buffer(-EDGE)
        found += [part for part in _stretches(inside) if part.intersection(inner).length > EDGE]
    return found


def _stretches(lines: BaseGeometry) -> list[LineString]:
    """Lines without breaks that are long enough."""
    parts = [p for p in shapely.get_parts(lines) if p.geom_type == "LineString"]
    if len(parts) > 1:
        parts = list(shapely.get_parts(shapely.line_merge(shapely.multilinestrings(parts))))
    return [part for part in parts if part.length >= SHORTEST]


def _once(lines: Sequence[LineString]) -> list[LineString]:
    """Lines without those that run along another one."""
    kept: list[LineString] = []
    for line in sorted(lines, key=lambda line: -line.length):
        if not any(shapely.covers(shapely.buffer(other, SAME), line) for other in kept):
            kept.append(line)
    at = np.argsort([next(i for i, line in enumerate(lines) if line is one) for one in kept])
    return [kept[k] for k in at.tolist()]
