"""A strip of any shape as a thin sheet: finite elements on triangles, quadratic.

Current enters evenly over the place of a contact and its potential is the mean over that
place, which is what a contact of much resistance does to a sheet of little.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_over
from ..records import record
from .elimination import Floats, Ints, labels
from .layered import solve_layered

#: Distance of mesh points over the width of a strip, and the most points inside one.
FINE, MOST = 0.4, 1500.0

#: Rings of points towards an inner corner, each half as far as the one before.
RINGS = 4

#: Corners that turn inwards by more are inner corners (radians: 20 degrees).
INWARD = -0.35

#: Squares between a contact and the sheet: keeps contacts at one place apart.
CLOSE = 1e-3

#: Curves are straightened within this share of the mean width.
SMOOTH = 0.004

#: A scribble of more inner corners than this is too much to be fine at each.
MANY = 60

#: Points on circles about all places of one sheet. Where there are very many places, each has
#: fewer circles, the nearest ones, and below FEW each a fine grid lies under all of them together.
ABOUT, ON_CIRCLE, FEW = 4000, 12, 4

#: Times that crowded sides of the outline are halved, and what is not halved (mm).
ROUNDS, SHORT = 8, 0.05

#: Outlines are rounded to this before they are cut into triangles (mm).
GRID = 1e-5

#: Triangles below this share of the mean area are rounding noise.
SLIVER = 1e-9

#: A place without area is widened by this (mm), the tool's tolerance.
DOT = 0.05


@record
class Mesh:
    """`points` (p, 2) and `corners` (t, 3) of triangles; covers the shape to its tolerance."""

    points: Floats
    corners: Ints


def squares_between(shape: BaseGeometry, places: list[BaseGeometry]) -> Floats:
    """(k, k) table M in squares: potentials M I of k places that take currents I, sum I = 0."""
    mesh = triangulate(shape, places)
    nodes, ends, weights, loads = _system(mesh, places)
    piece, _ = labels(nodes, ends)
    leak = np.zeros(nodes)
    leak[np.unique(piece, return_index=True)[1]] = 1.0
    potentials = solve_layered(nodes, ends, weights, leak, loads)
    table = loads.T @ potentials
    return np.asarray((table + table.T) / 2.0 + CLOSE * np.eye(len(places)))


def conductances(table: Floats) -> Floats:
    """(k, k) conductances between the places, of a table in ohms; entries off the diagonal."""
    inverse = np.linalg.inv(table)
    rows = inverse.sum(axis=1)
    laplace = inverse - np.outer(rows, rows) / rows.sum()
    return np.asarray(-(laplace + laplace.T) / 2.0)


def triangulate(shape: BaseGeometry, places: list[BaseGeometry]) -> Mesh:
    """Triangles that cover a polygon, small where it is narrow, at inner corners, at places."""
    smooth = shapely.simplify(shape, SMOOTH * _mean_width(shape))
    polygon = shapely.set_precision(smooth, GRID)
    step = _step(polygon)
    corners = _inner_corners(polygon)
    inside = [_filling(polygon, step, corners)]
    if len(corners):
        radii = np.tile(_radii(step), len(corners))
        inside.append(_circles(polygon, np.repeat(corners, RINGS, axis=0), radii))
    each = max(1, ABOUT // (ON_CIRCLE * max(1, len(places))))
    centres, radii = _about_places(places, step, each)
    if len(centres):
        inside.append(_circles(polygon, centres, radii))
    if each < FEW:
        inside += _under_all(polygon, places, step, corners)
    sides = _settled(_rim(polygon, step, corners))
    points = np.concatenate([sides.reshape(-1, 2), _clear_of(sides, np.concatenate(inside))])
    mesh = _delaunay(np.unique(np.round(points, 5), axis=0), polygon)
    return _constrained(shapely.segmentize(polygon, step)) if mesh is None else mesh


def _rim(polygon: BaseGeometry, step: float, corners: Floats) -> Floats:
    """The outline as short sides (k, 2, 2), shorter and shorter towards inner corners."""
    inner = {(x, y) for x, y in corners.tolist()}
    radii = _radii(step)
    sides = []
    for part in shapely.get_parts(polygon):
        for ring in (part.exterior, *part.interiors):
            ends = shapely.get_coordinates(ring)
            for a, b in pairwise(ends):
                length = float(np.hypot(*(b - a)))
                at = [np.linspace(0.0, 1.0, int(np.ceil(length / step)) + 1)]
                near = radii[radii < 0.75 * length] / length
                at += [near] if tuple(a.tolist()) in inner else []
                at += [1.0 - near] if tuple(b.tolist()) in inner else []
                t = np.unique(np.concatenate(at))[:, None]
                points = a + t * (b - a)
                sides.append(np.stack([points[:-1], points[1:]], axis=1))
    return np.concatenate(sides)


def _settled(sides: Floats) -> Floats:
    """Sides halved until no end of another lies in the circle over any: then Delaunay's
    triangles keep them (J. Ruppert, 1995, from memory)."""
    for _ in range(ROUNDS):
        ends = shapely.points(np.unique(sides.reshape(-1, 2), axis=0))
        crowded = np.zeros(len(sides), dtype=bool)
        crowded[_within_circles(sides, ends)[0]] = True
        crowded &= np.hypot(*(sides[:, 1] - sides[:, 0]).T) > SHORT
        if not crowded.any():
            break
        middle = sides[crowded].mean(axis=1, keepdims=True)
        first = np.concatenate([sides[crowded][:, :1], middle], axis=1)
        second = np.concatenate([middle, sides[crowded][:, 1:]], axis=1)
        sides = np.concatenate([sides[~crowded], first, second])
    return sides


def _clear_of(sides: Floats, points: Floats) -> Floats:
    """Points that lie in no circle over a side."""
    if not len(points):
        return points
    return np.delete(points, _within_circles(sides, shapely.points(points))[1], axis=0)


def _within_circles(sides: Floats, points: NDArray[np.object_]) -> Ints:
    """(2, k) pairs of a side and a point strictly within the circle over it."""
    middle = shapely.points(sides.mean(axis=1))
    radius = np.hypot(*(sides[:, 1] - sides[:, 0]).T) / 2.0
    found = shapely.STRtree(points).query(middle, predicate="dwithin", distance=radius * 0.999)
    return np.asarray(found)


def _step(polygon: BaseGeometry) -> float:
    """Distance of mesh points: a share of the mean width."""
    return float(max(FINE * _mean_width(polygon), (polygon.area / MOST) ** 0.5))


def _mean_width(polygon: BaseGeometry) -> float:
    return float(2.0 * polygon.area / polygon.length)


def _filling(polygon: BaseGeometry, step: float, corners: Floats) -> Floats:
    """Points of a triangular grid inside, clear of the outline and of inner corners."""
    x0, y0, x1, y1 = polygon.bounds
    step = step_over(step, polygon.bounds)
    rows = np.arange(y0, y1 + step, step * 0.866)
    x, y = np.meshgrid(np.arange(x0, x1 + step, step), rows)
    x = x + np.where(np.arange(len(rows)) % 2, step / 2.0, 0.0)[:, None]
    points = np.stack([x.ravel(), y.ravel()], axis=1)
    inner = polygon.buffer(-0.51 * step)
    points = points[shapely.contains_xy(inner, points[:, 0], points[:, 1])]
    if len(corners) and len(points):
        tree = shapely.STRtree(shapely.points(corners))
        near = tree.query(shapely.points(points), predicate="dwithin", distance=0.9 * step)[0]
        points = np.delete(points, near, axis=0)
    return points


def _inner_corners(polygon: BaseGeometry) -> Floats:
    """Corners (k, 2) of the outline that turn inwards by more than 20 degrees."""
    found = [np.empty((0, 2))]
    for part in shapely.get_parts(polygon):
        for number, ring in enumerate((part.exterior, *part.interiors)):
            p = shapely.get_coordinates(ring)[:-1]
            ahead, back = np.roll(p, -1, axis=0) - p, p - np.roll(p, 1, axis=0)
            cross = back[:, 0] * ahead[:, 1] - back[:, 1] * ahead[:, 0]
            turn = np.arctan2(cross, (ahead * back).sum(axis=1))
            sense = (1.0 if ring.is_ccw else -1.0) * (-1.0 if number else 1.0)
            found.append(p[turn * sense < INWARD])
    inner = np.concatenate(found)
    return inner if len(inner) <= MANY else np.empty((0, 2))


def _radii(step: float) -> Floats:
    """Radii of the circles about inner corners, each half the one before."""
    return np.asarray(0.6 * step * 0.5 ** np.arange(RINGS))


def _about_places(places: list[BaseGeometry], step: float, most: int) -> tuple[Floats, Floats]:
    """Centres (m, 2) and radii (m,) of circles, up to `most` about each place that is small for
    the mesh."""
    centres, radii = [np.empty((0, 2))], [np.empty(0)]
    for place in places:
        size = max(place.area, DOT**2) ** 0.5
        wanted = int(np.ceil(np.log2(step / size))) + 1
        if wanted > 1:
            count = min(wanted, most)
            centres.append(np.tile(shapely.get_coordinates(place.centroid), (count, 1)))
            radii.append(0.4 * size * 2.0 ** np.arange(count))
    return np.concatenate(centres), np.concatenate(radii)


def _under_all(
    polygon: BaseGeometry, places: list[BaseGeometry], step: float, corners: Floats
) -> list[Floats]:
    """A grid under crowded places, and circles about them all, each twice as far as the last."""
    left, top, right, bottom = shapely.total_bounds(places).tolist()
    middle, reach = (left + right) / 2.0, float(np.hypot(right - left, bottom - top)) / 2.0
    fine = ((right - left) * (bottom - top) / MOST) ** 0.5
    if not 0.0 < fine < step:
        return []
    under = shapely.intersection(polygon, shapely.box(left, top, right, bottom).buffer(fine))
    count = max(1, int(np.ceil(np.log2(step / fine))))
    radii = np.asarray(reach * 1.2 * 2.0 ** np.arange(count), dtype=np.float64)
    centres = np.tile([middle, (top + bottom) / 2.0], (len(radii), 1))
    return [_filling(under, fine, corners), _circles(polygon, centres, radii)]


def _circles(polygon: BaseGeometry, centres: Floats, radii: Floats) -> Floats:
    """Points on each circle (m, 2), (m,), those inside and not too near the outline."""
    angles = np.arange(ON_CIRCLE) * (2.0 * np.pi / ON_CIRCLE)
    ring = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    points = (centres[:, None, :] + radii[:, None, None] * ring).reshape(-1, 2)
    clear = np.repeat(radii, ON_CIRCLE) * 0.3
    inside = shapely.contains_xy(polygon, points[:, 0], points[:, 1])
    points, clear = points[inside], clear[inside]
    far = shapely.distance(shapely.points(points), polygon.boundary) > clear
    return np.asarray(points[far])


def _delaunay(points: Floats, polygon: BaseGeometry) -> Mesh | None:
    """Delaunay triangles inside; None where they do not follow the outline."""
    try:
        triangles = shapely.get_parts(shapely.delaunay_triangles(MultiPoint(points)))
    except shapely.GEOSException:  # points all but on top of each other may confuse it
        return None
    middle = shapely.get_coordinates(shapely.centroid(triangles))
    area = shapely.area(triangles)
    inside = shapely.contains_xy(polygon, middle[:, 0], middle[:, 1])
    triangles = triangles[inside & (area > SLIVER * area.mean())]
    if abs(float(shapely.area(triangles).sum()) - polygon.area) > 1e-4 * polygon.area:
        return None
    return _numbered(triangles)


def _constrained(polygon: BaseGeometry) -> Mesh:
    """Triangles between points of the outline alone, which they follow exactly."""
    parts = [
        shapely.get_parts(shapely.constrained_delaunay_triangles(part))
        for part in shapely.get_parts(polygon)
        if isinstance(part, Polygon)
    ]
    triangles = np.concatenate(parts)
    area = shapely.area(triangles)
    return _numbered(triangles[area > SLIVER * area.mean()])


def _numbered(triangles: NDArray[np.object_]) -> Mesh:
    corners = shapely.get_coordinates(triangles).reshape(-1, 4, 2)[:, :3]
    points, number = np.unique(corners.reshape(-1, 2), axis=0, return_inverse=True)
    return Mesh(points, number.reshape(-1, 3))


def _system(mesh: Mesh, places: list[BaseGeometry]) -> tuple[int, Ints, Floats, Floats]:
    """Nodes, branches, their weights, and loads (n, k) of quadratic elements."""
    t, count = mesh.corners, len(mesh.points)
    sides = np.stack([t[:, [1, 2]], t[:, [2, 0]], t[:, [0, 1]]], axis=1)
    keys = sides.min(axis=2) * count + sides.max(axis=2)
    edges, middle = np.unique(keys.ravel(), return_inverse=True)
    local = np.concatenate([t, count + middle.reshape(-1, 3)], axis=1)
    stiff = _stiffness(mesh.points[t])
    a, b = np.triu_indices(6, 1)
    ends = np.stack([local[:, a].ravel(), local[:, b].ravel()], axis=1)
    weights = -stiff[:, a, b].ravel()
    used = np.abs(weights) > 0.0
    loads = _loads(mesh, local, count + len(edges), places)
    return count + len(edges), ends[used], weights[used], loads


def _stiffness(at: Floats) -> Floats:
    """(t, 6, 6) of Laplace's equation on triangles (t, 3, 2): three mid-side points, exact."""
    e = np.stack([at[:, 2] - at[:, 1], at[:, 0] - at[:, 2], at[:, 1] - at[:, 0]], axis=1)
    double = e[:, 0, 0] * e[:, 1, 1] - e[:, 0, 1] * e[:, 1, 0]
    slopes = np.stack([-e[:, :, 1], e[:, :, 0]], axis=2) / double[:, None, None]
    total = np.zeros((len(at), 6, 6))
    for shares in ((0.0, 0.5, 0.5), (0.5, 0.0, 0.5), (0.5, 0.5, 0.0)):
        s = np.array(shares)
        own = slopes * (4.0 * s - 1.0)[None, :, None]
        j, k = [1, 2, 0], [2, 0, 1]
        side = 4.0 * (s[j][None, :, None] * slopes[:, k] + s[k][None, :, None] * slopes[:, j])
        gradient = np.concatenate([own, side], axis=1)
        total += np.einsum("tid,tjd->tij", gradient, gradient)
    return np.asarray(total * (np.abs(double) / 6.0)[:, None, None])


def _loads(mesh: Mesh, local: Ints, nodes: int, places: list[BaseGeometry]) -> Floats:
    """(n, k) shares of a unit current spread evenly over each place."""
    triangles = shapely.polygons(mesh.points[mesh.corners])
    tree = shapely.STRtree(triangles)
    solid = [p if p.area > DOT**2 else p.buffer(DOT) for p in places]
    loads = np.zeros((nodes, len(places)))
    hits = tree.query(np.array(solid, dtype=object), predicate="intersects")
    pieces = shapely.intersection(triangles[hits[1]], np.array(solid, dtype=object)[hits[0]])
    number, at, area = _fans(pieces)
    place, triangle = hits[0][number], hits[1][number]
    share = _barycentric(mesh.points[mesh.corners[triangle]], at)
    own = share * (2.0 * share - 1.0)
    side = 4.0 * share[:, [1, 2, 0]] * share[:, [2, 0, 1]]
    values = np.concatenate([own, side], axis=1) * area[:, None]
    np.add.at(loads, (local[triangle], place[:, None]), values)
    for k in np.flatnonzero(np.abs(loads.sum(axis=0)) <= 1e-12).tolist():
        loads[_nearest(mesh, solid[k]), k] = 1.0
    return np.asarray(loads / loads.sum(axis=0))


def _nearest(mesh: Mesh, place: BaseGeometry) -> int:
    """The mesh point nearest to a place that lies just beside the sheet."""
    return int(np.argmin(shapely.distance(shapely.points(mesh.points), place)))


def _fans(pieces: NDArray[np.object_]) -> tuple[Ints, Floats, Floats]:
    """Points to sample polygons at, exact for quadratic functions: polygon, place, weight.

    Each polygon is a fan of triangles about its centroid, each with its three mid-side points.
    """
    rings, owner = shapely.get_coordinates(shapely.normalize(pieces), return_index=True)
    solid = shapely.area(pieces) > 0.0
    middle = np.zeros((len(pieces), 2))
    middle[solid] = shapely.get_coordinates(shapely.centroid(pieces[solid]))
    edge = np.flatnonzero((owner[1:] == owner[:-1]) & solid[owner[1:]])
    a, b, c = rings[edge], rings[edge + 1], middle[owner[edge]]
    u, v = a - c, b - c
    third = (u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]) / 6.0
    at = np.concatenate([(a + b) / 2.0, (b + c) / 2.0, (c + a) / 2.0])
    return np.tile(owner[edge], 3), at, np.tile(third, 3)


def _barycentric(at: Floats, middle: Floats) -> Floats:
    a, b, c = at[:, 0], at[:, 1], at[:, 2]
    u, v, w = b - a, c - a, middle - a
    double = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    second = (w[:, 0] * v[:, 1] - w[:, 1] * v[:, 0]) / double
    third = (u[:, 0] * w[:, 1] - u[:, 1] * w[:, 0]) / double
    return np.stack([1.0 - second - third, second, third], axis=1)
