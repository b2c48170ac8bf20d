"""Back sheet, foam, cover and diffuser: closed outlines with holes; and fold lines."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from ..geometry.areas import sound
from ..geometry.relations import Relations, relate
from ..language import say
from ..model.card import Fold, Sheet
from ..model.drawing import Contour, Shape
from ..model.finding import Finding
from .contours import closed_outlines
from .doubles import doubled_findings, merge_doubles

#: A fold keeps within this of the straight line between its ends (mm).
STRAIGHT = 0.2

#: Outlines smaller than this are nothing (mm2).
NOTHING = 1e-3


def read_sheets(
    shapes: Sequence[Shape], role: str
) -> tuple[tuple[Sheet, ...], tuple[Finding, ...]]:
    """Sheets of one layer: nesting over the layer as a whole makes holes.

    A separate outline inside another one is a hole in it, one inside that hole is a sheet
    again. Lines that are drawn twice count once; outlines that cross stand for themselves.
    """
    found, findings = closed_outlines(shapes)
    merged = merge_doubles([o for o in found if o.area.area > NOTHING])
    findings += doubled_findings(merged)
    outlines = merged.outlines
    if not outlines:
        return (), tuple(findings)
    areas = np.array([o.area for o in outlines], dtype=object)
    levels, holes = _nested(areas, relate(areas))
    sheets = tuple(
        Sheet(outline.shape.id, role, _cut(outline.area, [areas[j] for j in holes.get(i, [])]))
        for i, outline in enumerate(outlines)
        if levels[i] % 2 == 0
    )
    return sheets, tuple(findings)


def _nested(areas: np.ndarray, relations: Relations) -> tuple[np.ndarray, dict[int, list[int]]]:
    """(n,) number of outlines round each one, and the holes (odd levels) by their sheet."""
    levels = np.bincount(relations.contains[:, 1], minlength=len(areas))
    holes: dict[int, list[int]] = {}
    for i, j in relations.contains.tolist():
        if levels[j] == levels[i] + 1 and levels[j] % 2 == 1:
            holes.setdefault(i, []).append(j)
    return levels, holes


def _cut(area: BaseGeometry, holes: Sequence[BaseGeometry]) -> BaseGeometry:
    return sound(area.difference(shapely.union_all(list(holes)))) if holes else area


def fold_lines(shapes: Sequence[Shape]) -> tuple[tuple[Fold, ...], tuple[Finding, ...]]:
    """Straight fold lines of the Folds layer; what is not straight is skipped and named."""
    folds: list[Fold] = []
    findings: list[Finding] = []
    for shape in shapes:
        for contour in shape.contours:
            if len(contour.points) < 2:
                continue
            line = _straight(contour)
            if line is None:
                findings.append(_not_straight(shape, contour))
            else:
                moves = shape.attributes.get("moves", "often")
                cell = shape.attributes.get("folds") or None
                folds.append(Fold(shape.id, line, "once" if moves == "once" else "often", cell))
    return tuple(folds), tuple(findings)


def _straight(contour: Contour) -> LineString | None:
    """The line between the two farthest points, None where the contour leaves it."""
    points = contour.points
    middle = points.mean(axis=0)
    first = points[np.argmax(np.hypot(*(points - middle).T))]
    last = points[np.argmax(np.hypot(*(points - first).T))]
    along = last - first
    length = float(np.hypot(*along))
    if length <= STRAIGHT:
        return None
    off = np.abs((points - first) @ np.array([-along[1], along[0]])) / length
    if off.max() > STRAIGHT + 1e-6:
        return None
    return LineString([first, last])


def _not_straight(shape: Shape, contour: Contour) -> Finding:
    x, y = contour.points[len(contour.points) // 2]
    return Finding(
        "object-skipped",
        "caution",
        (float(x), float(y)),
        (shape.id,),
        say('"{name}" is no straight line, so I take it as no fold.', name=shape.id),
        say("Draw the fold as one straight line from edge to edge, or move it to another layer."),
    )
