"""Figures of what is cut: narrowest place, closest places, lengths."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon

#: The narrowest place is found within this (mm).
CLOSE = 0.002

#: Pieces of one sheet farther apart than this do not come near each other (mm).
FAR = 5.0

#: Eroding a little less than the width leaves something (mm).
UNDER = 0.004


def narrow(areas: np.ndarray, width: float) -> np.ndarray:
    """Which areas have a place narrower than `width` (mm): eroded, they vanish or fall apart."""
    with np.errstate(all="ignore"):  # the library's own, where an area vanishes in a point
        left = shapely.buffer(areas, -(width - UNDER) / 2.0, join_style="mitre")
    whole = shapely.get_type_id(left) == shapely.GeometryType.POLYGON
    return np.asarray(~whole | shapely.is_empty(left))


def smallest_feature(areas: Sequence[Polygon], widest: float = 20.0) -> float | None:
    """Width of the narrowest place of some areas in mm (None without areas).

    Corners and ends do not count. Nothing over `widest` is looked for (then that is given).
    """
    rest = np.array(areas, dtype=object)
    if not len(rest):
        return None
    low, high = 0.0, widest
    rest = rest[narrow(rest, high)]
    if not len(rest):
        return high
    while high - low > CLOSE:
        middle = (low + high) / 2.0
        bad = narrow(rest, middle)
        if bad.any():
            rest, high = rest[bad], middle
        else:
            low = middle
    return round(high - UNDER, 2)


def smallest_spacing(areas: Sequence[Polygon]) -> float | None:
    """Smallest distance between two areas in mm (None where all are over `FAR` apart)."""
    shapes = np.array(areas, dtype=object)
    first, second = shapely.STRtree(shapes).query(shapes, predicate="dwithin", distance=FAR)
    keep = first < second
    apart = shapely.distance(shapes[first[keep]], shapes[second[keep]])
    return float(apart.min()) if len(apart) else None
