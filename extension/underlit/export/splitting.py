"""Where a strip that is too long may be cut in two: a straight place away from everything."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from ..geometry.spacing import step_along
from ..model.card import Strip
from .packing import upright_area

Point = tuple[float, float]
Fits = Callable[[tuple[float, float]], bool]

#: Steps in which places are tried (mm), and how many cuts are proposed at most.
STEP = 1.0
MOST = 20

#: So many places are tried for one cut near the middle.
TRIED = 50

#: A filled strip is straight where its width and middle stay the same within this share.
EVEN = 0.05


def split_places(strip: Strip, keep_off: BaseGeometry, overlap: float, fits: Fits) -> list[Point]:
    """Places to cut a strip at so that every part fits (empty: there are none).

    `keep_off` are feet and overlaps, `overlap` how far the parts lie over each other (mm),
    `fits` judges width and height of the smallest rectangle round a part.
    """
    if strip.line is not None:
        return _along_line(strip.line, strip.width, keep_off, overlap, fits)
    parts = [p for p in shapely.get_parts(strip.geometry) if p.geom_type == "Polygon"]
    place = _across(parts[0], strip.width, keep_off, overlap, fits)
    return [] if place is None else [place]


def _along_line(
    line: LineString, width: float, keep_off: BaseGeometry, overlap: float, fits: Fits
) -> list[Point]:
    free = _free(line, width, keep_off, overlap)

    def part_fits(start: float, end: float) -> bool:
        part = substring(line, max(start, 0.0), min(end, line.length))
        return fits(_size(part.buffer(width / 2.0, cap_style="flat", join_style="mitre")))

    half = overlap / 2.0
    few = free[:: max(1, len(free) // TRIED)]
    for at in sorted(few, key=lambda d: (abs(d - line.length / 2.0), d)):
        if part_fits(0.0, at + half) and part_fits(at - half, line.length):
            return [_point(line, at)]
    places: list[Point] = []
    start = 0.0
    while not part_fits(start - half, line.length) and len(places) < MOST:
        ahead = [d for d in free if d > start + 2.0 * width]
        reach = bisect_left(ahead, True, key=lambda d: not part_fits(start - half, d + half))
        if reach == 0:
            return []
        start = ahead[reach - 1]
        places.append(_point(line, start))
    return places


def _free(line: LineString, width: float, keep_off: BaseGeometry, overlap: float) -> list[float]:
    """Distances along a line that are straight and away from corners, feet and overlaps."""
    corners = np.concatenate(
        [[0.0], np.cumsum(np.hypot(*np.diff(shapely.get_coordinates(line), axis=0).T))]
    )
    step = step_along(STEP, line.length)
    tried = np.arange(step, line.length, step)
    room = (overlap + width) / 2.0
    straight = np.abs(tried[:, None] - corners[None, :]).min(axis=1) >= room
    points = shapely.line_interpolate_point(line, tried)
    away = ~(shapely.distance(points, keep_off) < room + width / 2.0)
    return [float(d) for d in tried[straight & away]]


def _point(line: LineString, at: float) -> Point:
    point = line.interpolate(at)
    return (float(point.x), float(point.y))


def _size(area: BaseGeometry) -> tuple[float, float]:
    upright = upright_area(area)
    return (float(upright.bounds[2]), float(upright.bounds[3]))


def _across(
    area: Polygon, width: float, keep_off: BaseGeometry, overlap: float, fits: Fits
) -> Point | None:
    """The place nearest to the middle of a filled strip where it runs straight."""
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(area))
    edges = np.diff(corners, axis=0)
    along = int(np.argmax(np.hypot(*edges.T)))
    length = float(np.hypot(*edges[along]))
    x, y = edges[along] / length
    turn = np.array([[x, -y], [y, x]])
    level = shapely.transform(area, lambda points: points @ turn)
    off = shapely.transform(keep_off, lambda points: points @ turn)
    left, low, right, high = level.bounds
    middle = (left + right) / 2.0
    tried = np.arange(left + width, right - width, step_along(STEP, right - left))
    for at in sorted(tried.tolist(), key=lambda t: (abs(t - middle), t)):
        rungs = [_rung(level, at + d, low, high) for d in (-width, 0.0, width)]
        if any(rung is None for rung in rungs):
            continue
        spans = np.array(rungs)
        if float(np.ptp(spans, axis=0).max()) > EVEN * width:
            continue
        here = shapely.Point(at, float(spans[1].mean()))
        if off.distance(here) < overlap + width:
            continue
        parts = (
            shapely.clip_by_rect(level, left, low, at + overlap / 2.0, high),
            shapely.clip_by_rect(level, at - overlap / 2.0, low, right, high),
        )
        if all(fits(_size(part)) for part in parts):
            px, py = np.array([here.x, here.y]) @ turn.T
            return (float(px), float(py))
    return None


def _rung(area: Polygon, at: float, low: float, high: float) -> tuple[float, float] | None:
    """Where a line across meets a level strip: from, to; None where it meets it more than once."""
    cut = shapely.intersection(area, shapely.LineString([(at, low - 1.0), (at, high + 1.0)]))
    if cut.geom_type != "LineString" or cut.is_empty:
        return None
    return (float(cut.bounds[1]), float(cut.bounds[3]))
