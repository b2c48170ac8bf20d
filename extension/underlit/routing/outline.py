"""What a strip of a layout covers."""

from __future__ import annotations

from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from .layout import Strip


def strip_area(strip: Strip) -> BaseGeometry:
    """The area of a strip: butt ends, round corners."""
    line = LineString(strip.points)
    area: BaseGeometry = line.buffer(
        strip.width / 2.0, quad_segs=16, cap_style="flat", join_style="round"
    )
    return area
