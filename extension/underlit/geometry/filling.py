"""What a set of contours fills, by either fill rule of SVG.

Source: SVG 2, section 13.4.2 (fill-rule). Open contours are closed for filling.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from ..model.drawing import Contour

#: Pieces and holes smaller than this are numerical noise (mm2).
NOISE = 1e-6

EMPTY = MultiPolygon()


def filled_area(contours: Sequence[Contour], rule: str) -> BaseGeometry:
    """The area that contours fill together.

    `rule` is nonzero or evenodd. Exact for crossing, touching and nested contours. Gives a
    valid Polygon or MultiPolygon, empty where nothing is filled.
    """
    rings = [c.points for c in contours if len(c.points) > 2]
    if len(rings) == 1:
        ring = Polygon(rings[0])
        if ring.is_valid:
            return ring if ring.area > NOISE else EMPTY
    return fill_rings(rings, rule)


def fill_rings(rings: Sequence[np.ndarray], rule: str) -> BaseGeometry:
    """The general case of `filled_area`: every face between the lines judged by itself."""
    faces = faces_of(rings)
    if not len(faces):
        return EMPTY
    turns = winding_numbers(rings, shapely.get_coordinates(shapely.point_on_surface(faces)))
    inside = turns % 2 == 1 if rule == "evenodd" else turns != 0
    return sound(shapely.union_all(faces[inside]))


def faces_of(rings: Sequence[np.ndarray]) -> np.ndarray:
    """All faces, noise left out, that rings cut the plane into (outermost one excluded)."""
    lines = [shapely.linestrings(closed(points)) for points in rings if len(points) > 2]
    if not lines:
        return np.empty(0, dtype=object)
    noded = shapely.union_all(lines)
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(noded)))
    return np.asarray(faces[shapely.area(faces) > NOISE])


def closed(points: np.ndarray) -> np.ndarray:
    """(n, 2) points of a ring with the first one repeated at the end."""
    return np.concatenate([points, points[:1]])


def winding_numbers(rings: Sequence[np.ndarray], places: np.ndarray) -> np.ndarray:
    """(k,) times that the rings go round each of (k, 2) places.

    Counts crossings of a ray to the right, upward ones positive. A segment tree finds the
    segments that a ray can meet, so that the work grows with the crossings.
    """
    starts = np.concatenate(rings)
    ends = np.concatenate([np.roll(points, -1, axis=0) for points in rings])
    low, high = np.minimum(starts, ends), np.maximum(starts, ends)
    tree = shapely.STRtree(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    right = np.full(len(places), high[:, 0].max() + 1.0)
    rays = shapely.box(places[:, 0], places[:, 1], right, places[:, 1])
    ray, segment = tree.query(rays)
    (px, py), (ax, ay), (bx, by) = places[ray].T, starts[segment].T, ends[segment].T
    side = (bx - ax) * (py - ay) - (px - ax) * (by - ay)
    up = (ay <= py) & (by > py) & (side > 0.0)
    down = (by <= py) & (ay > py) & (side < 0.0)
    weights = up.astype(float) - down.astype(float)
    return np.bincount(ray, weights=weights, minlength=len(places)).astype(int)


def sound(area: BaseGeometry) -> BaseGeometry:
    """The polygons of a geometry, noise left out: a Polygon, a MultiPolygon, or empty."""
    if area.geom_type == "Polygon" and not area.interiors:
        return area if area.area > NOISE else EMPTY
    parts = [_without_pinholes(p) for p in shapely.get_parts(area) if p.geom_type == "Polygon"]
    parts = [part for part in parts if part.area > NOISE]
    if area.geom_type == "GeometryCollection":
        nested = [sound(p) for p in shapely.get_parts(area) if p.geom_type == "MultiPolygon"]
        parts += [part for multi in nested for part in shapely.get_parts(multi)]
    if len(parts) == 1:
        return parts[0]
    return MultiPolygon(parts) if parts else EMPTY


def _without_pinholes(polygon: Polygon) -> Polygon:
    holes = [ring for ring in polygon.interiors if Polygon(ring).area > NOISE]
    if len(holes) == len(polygon.interiors):
        return polygon
    return Polygon(polygon.exterior, holes)
