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

#: Coordinates that differ by less are the same (mm).
SAME = 1e-6

#: Eroding a little less than the width leaves something (mm).
UNDER = 0.004


def narrow(areas: np.ndarray, width: float) -> np.ndarray:
    """Which areas have a place narrower than `width` (mm): eroded, they vanish or fall apart.

    Areas of the same shape, of which a sheet of many cards is full, are eroded once.
    """
    first, same = by_shape(areas)
    return _eroded_apart(areas[first], width)[same]


def by_shape(areas: np.ndarray) -> tuple[list[int], list[int]]:
    """One area of each shape, and for every area which of those it is like but for its place."""
    corners = shapely.bounds(areas)[:, :2]
    sizes = shapely.get_num_coordinates(areas)
    moved = shapely.get_coordinates(areas) - np.repeat(corners, sizes, axis=0)
    there = shapely.set_coordinates(areas.copy(), moved)
    keys = shape_keys(there)
    number = {key: i for i, key in enumerate(dict.fromkeys(keys))}
    first = {number[key]: i for i, key in reversed(list(enumerate(keys)))}
    return [first[i] for i in range(len(number))], [number[key] for key in keys]


def shape_keys(areas: np.ndarray) -> list[bytes]:
    """A key for each area, alike for areas that have the same coordinates within `SAME`."""
    return shapely.to_wkb(shapely.normalize(shapely.set_precision(areas, SAME))).tolist()  # type: ignore[no-any-return]


def _eroded_apart(areas: np.ndarray, width: float) -> np.ndarray:
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
    low, high = 0.0, widest / 16.0
    while not (bad := narrow(rest, high)).any():  # from below: eroding by much takes much longer
        if high == widest:
            return widest
        low, high = high, 2.0 * high
    rest = rest[bad]
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
