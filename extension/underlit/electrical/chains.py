"""Strips that follow a line: how many squares lie before each place on them.

A stroked polyline is a chain: straight runs, corners by their closed form, curves by that of
the ring. Where that would not hold (a strip that covers or touches itself, corners closer
than half a width apart, curves tighter than the strip is wide) the sheet is solved instead.
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString

from ..model.card import Strip
from ..records import record
from .squares import Floats, arc_share, corner_squares

Flags = NDArray[np.bool_]

#: Vertices that turn by more are corners, by less points of a curve (radians: 15 degrees).
CORNER = 0.26

#: Sharper turns fold a strip over itself (radians: 120 degrees).
SHARPEST = 2.1

#: Inner edges of two corners lie at least this far apart (widths).
APART = 0.5

#: A curve's width over its radius stays below this.
TIGHTEST = 1.6

#: Outlines are taken as rectangles within this (mm).
SQUARE = 0.01


@record
class Chains:
    """Chains side by side: `line` and `width` of each, `along` and `squares` over all of them.

    Place s (mm) of chain k has np.interp(start[k] + s, along, squares) squares before it.
    Lines run on by a width at both ends (caps), which carries no current.
    """

    lines: NDArray[np.object_]
    width: Floats
    start: Floats
    along: Floats
    squares: Floats

    def before(self, chain: NDArray[np.intp], place: Floats) -> Floats:
        """Squares before places (mm along the line) on chains."""
        return np.asarray(np.interp(self.start[chain] + place, self.along, self.squares))


def centre_lines(strips: list[Strip]) -> list[LineString | None]:
    """The line that each strip follows: that of its stroke, or the axis of a rectangle."""
    return [s.line if s.line is not None else _axis(s) for s in strips]


def _axis(strip: Strip) -> LineString | None:
    """The long axis of an outline that is a rectangle."""
    area = strip.geometry
    if area.geom_type != "Polygon" or area.interiors:
        return None
    ring = shapely.get_coordinates(shapely.simplify(area.exterior, 1e-6))
    if len(ring) != 5:
        return None
    a, b, c, d = ring[:4]
    if (
        np.abs(a + c - b - d).max() > SQUARE
        or abs(np.hypot(*(c - a)) - np.hypot(*(d - b))) > SQUARE
    ):
        return None
    if np.hypot(*(b - a)) < np.hypot(*(c - b)):
        a, b, c, d = b, c, d, a
    return LineString([(a + d) / 2.0, (b + c) / 2.0])


def lay_chains(strips: list[Strip], lines: list[LineString]) -> tuple[Chains, Flags]:
    """Chains of strips, and which of them can be trusted as chains."""
    drawn = np.array(lines, dtype=object)
    points, owner = shapely.get_coordinates(drawn, return_index=True)
    keep = np.r_[True, (owner[1:] != owner[:-1]) | (np.abs(np.diff(points, axis=0)) > 1e-9).any(1)]
    points, owner = points[keep], owner[keep]
    width = _widths(strips, drawn)
    points, owner = _run_on(points, owner, width)
    inner = owner[1:] == owner[:-1]
    way = np.diff(points, axis=0)[inner]
    own = owner[1:][inner]
    length = np.hypot(way[:, 0], way[:, 1])
    turn = _turns(way, own)
    zone, zone_squares, fits = _zones(length, turn, width[own], own)
    plain = np.maximum(length - zone[:, 0] - zone[:, 1], 0.0)
    along = np.stack([zone[:, 0], plain, zone[:, 1]], axis=1)
    squares = np.stack([zone_squares[:, 0], plain / width[own], zone_squares[:, 1]], axis=1)
    total = np.bincount(own, length, len(strips))
    start = np.r_[0.0, np.cumsum(total)[:-1]]
    fine = np.ones(len(strips), dtype=bool)
    fine[own[~fits]] = False
    corners = np.bincount(own, np.r_[turn, 0.0] > CORNER, len(strips)).astype(float)
    fine &= _plain(strips, total - 2.0 * width, width, corners)
    laid = Chains(
        lines=shapely.linestrings(points, indices=owner),
        width=width,
        start=start,
        along=np.r_[0.0, np.cumsum(along)],
        squares=np.r_[0.0, np.cumsum(squares)],
    )
    return laid, fine


def _widths(strips: list[Strip], lines: NDArray[np.object_]) -> Floats:
    """Width of a stroke as drawn; of a rectangle its short side."""
    drawn = np.array([s.width if s.line is not None else 0.0 for s in strips])
    filled = drawn == 0.0
    if filled.any():
        areas = shapely.area(np.array([s.geometry for s in strips], dtype=object)[filled])
        drawn[filled] = areas / shapely.length(lines[filled])
    return drawn


def _run_on(
    points: Floats, owner: NDArray[np.intp], width: Floats
) -> tuple[Floats, NDArray[np.intp]]:
    """Lines a width longer at both ends."""
    points = points.copy()
    first = np.flatnonzero(np.r_[True, owner[1:] != owner[:-1]])
    last = np.r_[first[1:] - 1, len(owner) - 1]
    for tip, inner in ((first, first + 1), (last, last - 1)):
        way = points[tip] - points[inner]
        far = np.hypot(way[:, 0], way[:, 1])
        points[tip] += way * (width / far)[:, None]
    return points, owner


def _turns(way: Floats, own: NDArray[np.intp]) -> Floats:
    """Turn (radians) behind each segment but the last: 0 where the next one is another line."""
    a, b = way[:-1], way[1:]
    turn = np.arctan2(np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]), (a * b).sum(axis=1))
    return np.asarray(np.where(own[1:] == own[:-1], turn, 0.0))


def _zones(
    length: Floats, turn: Floats, width: Floats, own: NDArray[np.intp]
) -> tuple[Floats, Floats, Flags]:
    """Length and squares (k, 2) that corners and curves take of each segment's two ends.

    The last is whether a segment is long enough for its corners, and no curve too tight.
    """
    sharp = turn > CORNER
    reach = np.where(sharp, np.tan(np.minimum(turn, SHARPEST) / 2.0) / 2.0, 0.0)
    mean = (length[:-1] + length[1:]) / 2.0
    bend = np.where(sharp, 0.0, turn * width[:-1] / mean)
    share = arc_share(np.minimum(bend, TIGHTEST))
    half_corner = corner_squares(np.minimum(turn, SHARPEST)) / 2.0
    zone = np.zeros((len(length), 2))
    squares = np.zeros((len(length), 2))
    inside = own[1:] == own[:-1]
    for end, here in ((1, slice(0, -1)), (0, slice(1, None))):
        at_curve = np.where(turn > 0.0, length[here] / 2.0, 0.0)
        room = np.where(sharp, reach * width[here], at_curve)
        zone[here, end] = np.where(inside, np.minimum(room, length[here]), 0.0)
        smooth = zone[here, end] * share / width[here]
        squares[here, end] = np.where(sharp, half_corner, smooth) * inside
    tight = np.r_[(turn > SHARPEST) | (bend >= TIGHTEST), False]
    both = np.r_[False, sharp] & np.r_[sharp, False]
    near = both & (length < zone.sum(axis=1) + APART * width)
    near |= zone.sum(axis=1) > length + 1e-9
    return zone, squares, ~(tight | near)


def _plain(strips: list[Strip], length: Floats, width: Floats, corners: Floats) -> Flags:
    """Whether a strip's outline is that of a line which neither covers nor touches itself."""
    areas = np.array([s.geometry for s in strips], dtype=object)
    area, rim = shapely.area(areas), shapely.length(areas)
    band = width * length
    whole = (area > band - (0.25 + 0.15 * corners) * width**2) & (area < band + 1.1 * width**2)
    round_it = rim > 2.0 * length + (1.4 - 0.5 * corners) * width
    return np.asarray(whole & round_it)
