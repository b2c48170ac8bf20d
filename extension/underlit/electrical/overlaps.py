"""Long overlaps: strips that lie on each other for more than about a width, cut into short pieces.

Between two strips that lie along each other, current passes over all the way. A piece of about one
width may count as one contact in its middle; a longer one as a row of such pieces.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, hypot

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

#: Longest piece, in widths of the narrower strip.
LONGEST = 1.25


def short_pieces(place: BaseGeometry, width: float) -> Iterator[BaseGeometry]:
    """The place of an overlap of strips so wide (mm), cut across where it is long; else itself."""
    if place.area <= LONGEST * width * width:
        yield place
        return
    corners = shapely.get_coordinates(shapely.oriented_envelope(place))[:4]
    along, across = corners[1] - corners[0], corners[3] - corners[0]
    if hypot(*along) < hypot(*across):
        along, across = across, along
    count = ceil(hypot(*along) / (LONGEST * width))
    if count < 2:
        yield place
        return
    for i in range(count):
        start = corners[0] + along * (i / count)
        end = corners[0] + along * ((i + 1) / count)
        ring = np.array([start, end, end + across, start + across])
        piece = shapely.intersection(place, shapely.polygons(ring))
        if piece.area > 0.0:
            yield piece
