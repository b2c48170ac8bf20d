"""What a stroke paints: width, caps, joins, miter limit, under any linear transform.

Source: SVG 2, sections 13.5 (stroke properties) and 13.5.6 (the shape of a stroke). An uneven
transform is undone first, so that the pen is round in the object's own coordinates, and the
painted area is carried over. Round shapes keep within `units.FLATNESS`.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, ceil, hypot, pi

import numpy as np
import shapely
from shapely.geometry import LinearRing, LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from ..model.drawing import Contour, Stroke
from ..records import record
from ..units import FLATNESS
from .filling import EMPTY, sound

CAPS = {"butt": "flat", "round": "round", "square": "square"}

#: SVG join -> that of shapely; miters under the limit are never cut off.
JOINS = {"miter": "mitre", "round": "round", "bevel": "bevel"}

#: No miter is cut off by the library: what is over the limit was bevelled before.
UNCUT = 1e4

#: A line of more points than this that crosses or covers itself is widened in runs of so many
#: segments.
LONG, RUN = 200, 32

#: Turns below this (radians) have no visible join.
STRAIGHT = 1e-9


@record
class Pen:
    """A stroke made round: half width, cap, join and miter limit in the pen's own plane.

    `linear` carries that plane to page mm; None where the two are the same.
    """

    half: float
    cap: str
    join: str
    limit: float
    steps: int
    linear: np.ndarray | None


def stroked_area(contours: Sequence[Contour], stroke: Stroke) -> BaseGeometry:
    """The area that a stroke paints along contours (page mm).

    Closed contours have no caps; contours without length are dots where the cap is round or
    square. What overlaps is one area. Gives a valid Polygon or MultiPolygon, or empty.
    """
    pen = pen_of(stroke)
    if pen is None:
        return EMPTY
    areas = [area for contour in contours for area in _painted(contour, pen)]
    if not areas:
        return EMPTY
    together = areas[0] if len(areas) == 1 else shapely.union_all(areas)
    if pen.linear is None:
        return sound(together)
    (a, b), (c, d) = pen.linear
    return sound(shapely.transform(together, lambda p: p @ np.array([[a, c], [b, d]])))


def pen_of(stroke: Stroke) -> Pen | None:
    """The pen of a stroke, None where it paints nothing."""
    largest, smallest = np.linalg.svd(stroke.linear, compute_uv=False)
    if stroke.width <= 0.0 or smallest <= 1e-9:
        return None
    cap, join = stroke.cap, stroke.join if stroke.join in JOINS else "miter"
    even = largest - smallest <= 1e-9 * largest
    half = stroke.width * (float(largest) if even else 1.0) / 2.0
    radius = stroke.width * float(largest) / 2.0
    linear = None if even else np.asarray(stroke.linear, dtype=float)
    return Pen(half, cap, join, max(stroke.miter_limit, 1.0), steps_for(radius), linear)


def steps_for(radius: float) -> int:
    """Segments of a quarter circle that keep within `FLATNESS` of it."""
    if radius <= 4.0 * FLATNESS:
        return 2
    return max(2, ceil(pi / (4.0 * acos(1.0 - FLATNESS / radius))))


def _painted(contour: Contour, pen: Pen) -> list[BaseGeometry]:
    """Pieces, in the pen's plane, that make up the stroke of one contour."""
    points = contour.points
    if pen.linear is not None:
        points = points @ np.linalg.inv(pen.linear).T
    points = without_repeats(points, contour.closed)
    if len(points) < 2:
        return _dot(points, pen)
    line, cap = _line(points, contour.closed, pen)
    tips = _miters(points, contour.closed, pen) if pen.join == "miter" else None
    join = "bevel" if tips is not None else JOINS[pen.join]
    style = {"cap_style": cap, "join_style": join, "mitre_limit": UNCUT}
    if not line.is_simple or (len(line.coords) > LONG and _covers_itself(line, pen.half)):
        return [*_in_runs(np.asarray(line.coords), pen, cap, join), *(tips or [])]
    return [line.buffer(pen.half, quad_segs=pen.steps, **style), *(tips or [])]


def _covers_itself(line: BaseGeometry, half: float) -> bool:
    """Whether a stroke is longer than could lie side by side in the room that it takes."""
    x0, y0, x1, y1 = line.bounds
    room = (x1 - x0 + 2.0 * half) * (y1 - y0 + 2.0 * half)
    return bool(2.0 * half * line.length > room)


def _in_runs(points: np.ndarray, pen: Pen, cap: str, join: str) -> list[BaseGeometry]:
    """A line over itself in short runs that share a segment.

    The area is the same; for a long line the time no longer grows with the square of its
    crossings (27 s against 0.3 s, measured), and where a line goes back on itself the library
    would lose a piece of it.
    """
    style = {"cap_style": "flat", "join_style": join, "mitre_limit": UNCUT}
    areas = [
        run.buffer(pen.half, quad_segs=pen.steps, **style)
        for start in range(0, max(len(points) - 2, 1), RUN)
        for run in _simple(points[start : start + RUN + 2])
    ]
    for tip, inner in ((points[0], points[1]), (points[-1], points[-2])):
        if cap == "round":
            areas.append(Point(tip).buffer(pen.half, quad_segs=pen.steps))
        elif cap == "square":
            out = tip + (tip - inner) * (pen.half / hypot(*(tip - inner)))
            areas.append(LineString([tip, out]).buffer(pen.half, cap_style="flat"))
    return areas


def _simple(points: np.ndarray) -> list[BaseGeometry]:
    """A run as a whole, or, where it touches itself, its single corners."""
    run = LineString(points)
    if run.is_simple or len(points) < 3:
        return [run]
    return [LineString(points[i : i + 3]) for i in range(len(points) - 2)]


def _line(points: np.ndarray, closed: bool, pen: Pen) -> tuple[BaseGeometry, str]:
    """What to widen, and the cap it takes."""
    if not closed:
        return LineString(points), CAPS.get(pen.cap, "flat")
    if len(points) > 2:
        ring = LinearRing(points)
        if ring.is_simple:
            return ring, "flat"
        # round a ring that crosses itself the library may leave a hole: go round and a bit more
        return LineString(np.concatenate([points, points[:2]])), "flat"
    return LineString(points), "round" if pen.join == "round" else "flat"


def without_repeats(points: np.ndarray, closed: bool) -> np.ndarray:
    """Points with neighbours that fall together left out."""
    if len(points) < 2:
        return points
    keep = np.ones(len(points), dtype=bool)
    keep[1:] = np.abs(np.diff(points, axis=0)).max(axis=1) > 1e-9
    points = points[keep]
    if closed and len(points) > 1 and np.abs(points[0] - points[-1]).max() <= 1e-9:
        return points[:-1]
    return points


def _dot(points: np.ndarray, pen: Pen) -> list[BaseGeometry]:
    """A contour without length: a dot of the pen's cap, nothing for butt."""
    if not len(points) or pen.cap not in {"round", "square"}:
        return []
    if pen.cap == "round":
        return [Point(points[0]).buffer(pen.half, quad_segs=pen.steps)]
    (x, y), h = points[0], pen.half
    return [shapely.box(x - h, y - h, x + h, y + h)]


def _miters(points: np.ndarray, closed: bool, pen: Pen) -> list[BaseGeometry] | None:
    """Tips to add to bevelled corners; None where every corner keeps its miter.

    A corner over the limit is bevelled altogether in SVG, where shapely would cut it off
    at the limit; so corners are told apart here.
    """
    into, out, corners = corner_directions(points, closed)
    cosine = np.einsum("ij,ij->i", into, out)
    ratio = 1.0 / np.sqrt(np.maximum((1.0 + cosine) / 2.0, 1e-30))
    if not len(ratio) or ratio.max() <= pen.limit:
        return None
    cross = into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0]
    tips: list[BaseGeometry] = []
    for k in np.flatnonzero((ratio <= pen.limit) & (np.abs(cross) > STRAIGHT)):
        side = -np.sign(cross[k]) * pen.half
        first = corners[k] + side * np.array([-into[k, 1], into[k, 0]])
        last = corners[k] + side * np.array([-out[k, 1], out[k, 0]])
        middle = (first + last) / 2.0 - corners[k]
        tip = corners[k] + middle * (ratio[k] * pen.half / hypot(*middle))
        tips.append(Polygon([corners[k], first, tip, last]))
    return tips


def corner_directions(points: np.ndarray, closed: bool) -> tuple[np.ndarray, ...]:
    """Unit directions into and out of every corner, and the corners: each (k, 2)."""
    ahead = np.roll(points, -1, axis=0) - points
    if not closed:
        ahead = ahead[:-1]
    ahead = ahead / np.hypot(ahead[:, 0], ahead[:, 1])[:, None]
    if closed:
        return np.roll(ahead, 1, axis=0), ahead, points
    return ahead[:-1], ahead[1:], points[1:-1]
