"""Drawn parts as areas: what they cover in their own frame, and as parts of a card."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from ..markup.part_shapes import Box, Disc, PartDrawing, PartShape, Rings
from ..markup.part_shapes.drawing import Outline
from ..model.card import PADS, Part

FEET = frozenset(PADS["cell"])


def area_of(outline: Outline) -> BaseGeometry:
    """The area inside an outline, in its own frame (mm); corners of boxes are taken as square."""
    if isinstance(outline, Box):
        return shapely.box(
            outline.left,
            outline.top,
            outline.left + outline.width,
            outline.top + outline.height,
        )
    if isinstance(outline, Disc):
        return Spot(*outline.at).buffer(outline.radius, quad_segs=48)
    if isinstance(outline, Rings):
        area = shapely.Polygon(outline.rings[0])
        for ring in outline.rings[1:]:
            area = area.symmetric_difference(shapely.Polygon(ring))
        return area
    raise TypeError("an open line has no area")


def features_of(drawing: PartDrawing) -> dict[str, BaseGeometry]:
    """Feature name -> area in the part's own frame (mm)."""
    return {s.feature: area_of(s.outline) for s in drawing.shapes if s.feature is not None}


def upright(drawing: PartDrawing, angle: float) -> PartDrawing:
    """The same part with the signs on its feet turned back, so that they read upright once it is
    turned by `angle` (a plus at 45 degrees looks like a cross, a minus at 90 like a bar)."""
    if angle % 180.0 == 0.0:
        return drawing
    shapes = list(drawing.shapes)
    for i, foot in enumerate(shapes[:-1]):
        after = shapes[i + 1]
        if foot.feature in FEET and after.feature is None:
            shapes[i + 1] = PartShape(_turned_back(after.outline, angle), None, after.paint)
    return replace(drawing, shapes=tuple(shapes))


def _turned_back(sign: Outline, angle: float) -> Rings:
    """A sign turned about its middle."""
    area = area_of(sign)
    points = shapely.get_coordinates(area)[:-1]
    middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
    c, s = np.cos(np.radians(angle)), np.sin(np.radians(angle))
    return Rings(((points - middle) @ np.array([[c, -s], [s, c]]) + middle,))


def placed_part(
    drawing: PartDrawing, name: str, at: tuple[float, float], angle: float, more: Mapping[str, str]
) -> Part:
    """A drawn part as a part of the card: turned (degrees, clockwise), then moved (page mm)."""
    c, s = np.cos(np.radians(angle)), np.sin(np.radians(angle))
    matrix = np.array([[c, s], [-s, c]])
    areas = {
        key: shapely.transform(area, lambda points: points @ matrix + np.array(at))
        for key, area in features_of(drawing).items()
    }
    attributes = {**drawing.attributes, **more}
    return Part(name, True, drawing.kind, attributes.get("type", ""), 0, attributes, areas)


def angle_of(light: Part) -> float:
    """Degrees, clockwise on screen, from the minus foot to the plus foot."""
    plus = light.features["positive-pad"].centroid
    minus = light.features["negative-pad"].centroid
    return float(np.degrees(np.arctan2(plus.y - minus.y, plus.x - minus.x))) % 360.0
