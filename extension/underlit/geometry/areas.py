"""What drawn shapes cover: filled, stroked, and as painted (page mm)."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..model.drawing import Contour, Shape
from .filling import EMPTY, filled_area, sound
from .stroking import CAPS, JOINS, UNCUT, Pen, corner_directions, pen_of, stroked_area

__all__ = ["EMPTY", "filled_area", "painted_area", "painted_areas", "sound", "stroked_area"]

#: A contour and the number of the shape that it belongs to, with its pen.
Plain = tuple[int, Contour, Pen]


def painted_area(shape: Shape) -> BaseGeometry:
    """What one shape paints: fill and stroke together, cut by its clip paths.

    A valid Polygon or MultiPolygon, empty where it paints nothing.
    """
    return painted_areas([shape])[0]


def painted_areas(shapes: Sequence[Shape]) -> list[BaseGeometry]:
    """`painted_area` of many shapes; plain open strokes are widened all at once."""
    areas: list[BaseGeometry] = [EMPTY] * len(shapes)
    plain: dict[tuple[str, str, int], list[Plain]] = {}
    for i, shape in enumerate(shapes):
        pen = _plain_pen(shape)
        if pen is None:
            areas[i] = _together(shape)
        else:
            plain.setdefault((pen.cap, pen.join, pen.steps), []).append((i, shape.contours[0], pen))
    for group in plain.values():
        for i, area in zip((i for i, _, _ in group), _widened(group), strict=True):
            areas[i] = sound(area)
    return [
        area if shape.clip is None else sound(shapely.intersection(area, shape.clip))
        for shape, area in zip(shapes, areas, strict=True)
    ]


def _together(shape: Shape) -> BaseGeometry:
    """Fill and stroke of one shape as one area, not yet clipped."""
    filled = filled_area(shape.contours, shape.fill_rule) if shape.filled else EMPTY
    if shape.stroke is None:
        return filled
    stroked = stroked_area(shape.contours, shape.stroke)
    if filled.is_empty:
        return stroked
    return sound(shapely.union(filled, stroked))


def _plain_pen(shape: Shape) -> Pen | None:
    """The pen of an unfilled shape of one open contour with ordinary corners, else None."""
    if shape.filled or shape.stroke is None or len(shape.contours) != 1:
        return None
    contour = shape.contours[0]
    points = contour.points
    if contour.closed or len(points) < 2:
        return None
    steps = np.abs(points[1:] - points[:-1]).max(axis=1)
    if steps.min() <= 1e-9:
        return None
    pen = pen_of(shape.stroke)
    if pen is None or pen.linear is not None or _sharp(points, pen):
        return None
    return pen


def _sharp(points: np.ndarray, pen: Pen) -> bool:
    """Whether a corner is over the miter limit."""
    if pen.join != "miter" or len(points) < 3:
        return False
    into, out, _ = corner_directions(points, False)
    cosine = float(np.einsum("ij,ij->i", into, out).min())
    return (1.0 + cosine) / 2.0 * pen.limit**2 < 1.0


def _widened(group: Sequence[Plain]) -> np.ndarray:
    """Areas of plain strokes that share cap, join and fineness."""
    points = np.concatenate([contour.points for _, contour, _ in group])
    owner = np.repeat(np.arange(len(group)), [len(contour.points) for _, contour, _ in group])
    first = group[0][2]
    return np.asarray(
        shapely.buffer(
            shapely.linestrings(points, indices=owner),
            np.array([pen.half for _, _, pen in group]),
            quad_segs=first.steps,
            cap_style=CAPS.get(first.cap, "flat"),
            join_style=JOINS[first.join],
            mitre_limit=UNCUT,
        )
    )
