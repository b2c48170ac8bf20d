"""Points that stand for areas, and the order in which a reader finds them."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from .spacing import step_along

#: Places whose y differ by no more than this stand in one row (mm).
ROW = 0.05

#: How far off the farthest place may be told (mm).
NEARLY = 0.5

#: Most places that are looked at for it, but for corners.
PLACES = 20_000


def inner_places(
    areas: Sequence[BaseGeometry], free: Sequence[BaseGeometry] | None = None
) -> list[tuple[float, float]]:
    """One place inside each area: its centre of gravity, or a place well inside.

    `free` is what of each area may be used (same length); where it is empty the whole area
    is. The centre of gravity is that of the whole area.
    """
    if not len(areas):
        return []
    usable = list(areas if free is None else free)
    usable = [f if not f.is_empty else a for f, a in zip(usable, areas, strict=True)]
    centres = shapely.centroid(list(areas))
    inside = shapely.contains(usable, centres)
    return [
        (float(c.x), float(c.y)) if fits else well_inside(area)
        for c, fits, area in zip(centres, inside, usable, strict=True)
    ]


def well_inside(area: BaseGeometry) -> tuple[float, float]:
    """The place farthest from the edge of an area (its largest part), nearly."""
    parts = [p for p in shapely.get_parts(area) if p.geom_type == "Polygon"]
    largest = max(parts, key=lambda part: float(part.area))
    x, y = shapely.get_coordinates(shapely.maximum_inscribed_circle(largest))[0]
    return (float(x), float(y))


def inner_place(area: BaseGeometry) -> tuple[float, float]:
    """The centre of gravity of the largest part where it lies inside, else a place well inside."""
    parts = [p for p in shapely.get_parts(area) if p.geom_type == "Polygon"]
    return inner_places([max(parts, key=lambda part: float(part.area))])[0]


def farthest(area: BaseGeometry, base: BaseGeometry) -> float:
    """How far the farthest place of an area is from another area (mm), within `NEARLY`.

    Where it is longer round than some metres, within its share of that.
    """
    parts = [p for p in shapely.get_parts(area) if p.geom_type == "Polygon"]
    edge = shapely.segmentize(shapely.boundary(parts), step_along(NEARLY, area.length, PLACES))
    points = [*shapely.get_coordinates(edge), *map(well_inside, parts)]
    return float(shapely.distance(shapely.points(points), base).max())


def reading_order(places: Sequence[tuple[float, float]]) -> list[int]:
    """Indices of places from top to bottom, in one row from left to right.

    A row takes in every place within `ROW` below its first one. Places that are the same to
    0.001 mm keep the order in which they come.
    """
    rows: list[list[int]] = []
    for i in sorted(range(len(places)), key=lambda i: (places[i][1], places[i][0], i)):
        if not rows or places[i][1] - places[rows[-1][0]][1] > ROW + 1e-9:
            rows.append([])
        rows[-1].append(i)
    return [i for row in rows for i in sorted(row, key=lambda i: (round(places[i][0], 3), i))]
