"""Pads or a frame: what is laid on a ground, and how well it supports."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from ..records import record
from .frame import frame
from .ground import BESIDE_FOAM, INSIDE, Ground
from .pads import pads
from .raster import raster_of, without
from .support import farthest, places_of, to_area


@record
class Layout:
    """`pieces` that are laid, in reading order; `unsupported` is the longest stretch of panel
    without foam (mm, twice the distance of the place `at` from foam), None without any foam."""

    pieces: tuple[BaseGeometry, ...]
    unsupported: float | None
    at: tuple[float, float] | None


def lay_out(ground: Ground, style: str, span: float) -> Layout:
    """Foam so that no place of the panel is farther than span / 2 (mm) from it, where room is.

    `style` is pads or frame; a frame gets pads inside where it is not enough.
    """
    if ground.panel.is_empty or ground.outline.is_empty:
        return Layout((), None, None)
    raster = raster_of(ground.free, ground.outline)
    points, step = places_of(ground.panel)
    far = to_area(points, ground.kept)
    pieces: list[BaseGeometry] = []
    if style == "frame":
        bed = shapely.buffer(ground.outline, -INSIDE, join_style="mitre")
        for part in shapely.get_parts(bed):
            pieces += frame(part, raster, ground.free)
        laid = shapely.union_all(pieces)
        raster = without(raster, laid, BESIDE_FOAM)
        far = np.minimum(far, to_area(points, laid))
    boxes = pads(raster, points, far, span / 2.0, step)
    pieces += [box(*one) for one in boxes.tolist()]
    pieces.sort(key=lambda one: (round(one.bounds[1], 3), round(one.bounds[0], 3)))
    foam = [ground.kept, *pieces]
    if all(one.is_empty for one in foam):
        return Layout((), None, None)
    distance, at = farthest(ground.panel, foam)
    return Layout(tuple(pieces), 2.0 * distance, at)
