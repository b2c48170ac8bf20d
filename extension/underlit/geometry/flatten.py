"""Segments to points: many subpaths at once, within a distance, with their corners.

A row is one segment: kind, then eight numbers.

    LINE   x0 y0 x1 y1 - - - -
    CUBIC  x0 y0 x1 y1 x2 y2 x3 y3
    ARC    cx cy ux uy vx vy t0 t1     centre + u cos t + v sin t, t in radians

A chord of a cubic cut into n equal steps of its parameter lies within h^2 / 8 x max |B''| of it
(h = 1/n; |B''| is at most 6 times the larger second difference of the control points); a chord of
an arc over the angle s within R (1 - cos(s / 2)), R the larger half axis.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from ..records import record
from ..units import FLATNESS

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

LINE, CUBIC, ARC = 0, 1, 2

#: What is farther from the page than this is no place on a card (mm).
FARTHEST = 1e6

#: Segments shorter than this are dropped (mm).
SHORTEST = 1e-9

#: An arc is cut at least this often, however small (radians).
WIDEST_STEP = math.pi / 4.0

#: Turns below this are rounding (degrees).
SMOOTH = 1e-3


@record
class Flat:
    """Points of all subpaths in one array; subpath i is `points[starts[i]:starts[i + 1]]`.

    `turns` as in `Contour`. `readable[i]` is false where a number of the subpath is not finite
    or too far away; such a subpath has no points, nor has one of no length.
    """

    points: Floats
    turns: Floats
    starts: np.ndarray
    readable: np.ndarray


def flatten(
    rows: Floats,
    counts: np.ndarray,
    closed: np.ndarray,
    matrices: Floats,
    tolerance: float = FLATNESS,
) -> Flat:
    """Carry segments to mm and flatten them.

    `rows` (m, 9) float64: the segments of k subpaths one after the other; `counts` (k,) int;
    `closed` (k,) bool; `matrices` (k, 6) float64 as SVG's a b c d e f. Segments of a subpath
    must join, and those of a closed one end where they begin.
    """
    owner = np.repeat(np.arange(len(counts)), counts)
    with np.errstate(all="ignore"):
        nodes, axes = _carry(rows, matrices[owner])
        far = ~(np.abs(nodes).max(axis=(1, 2), initial=0.0) < FARTHEST)
        far |= ~np.isfinite(rows).all(axis=1)
    readable = np.ones(len(counts), dtype=bool)
    readable[owner[far]] = False
    kept = readable[owner] & (_extent(nodes, axes, rows) > SHORTEST)
    rows, nodes, axes, owner = rows[kept], nodes[kept], axes[kept], owner[kept]
    steps = _steps(rows, nodes, axes, tolerance)
    points, first = _points(rows, nodes, axes, steps)
    turns = np.zeros(len(points))
    turns[first] = _turns(rows, nodes, axes, owner, closed)
    return _with_ends(points, turns, nodes, owner, steps, closed, readable)


def _carry(rows: Floats, matrix: Floats) -> tuple[Floats, Floats]:
    """Four control points of each row in mm, (m, 4, 2), and the half axes of arcs, (m, 2, 2).

    A line is the cubic whose handles lie on its ends; an arc has its ends twice.
    """
    kind = rows[:, 0]
    nodes = rows[:, 1:9].reshape(-1, 4, 2).copy()
    lines, arcs = np.flatnonzero(kind == LINE), np.flatnonzero(kind == ARC)
    nodes[lines] = nodes[lines][:, [0, 0, 1, 1]]
    axes = np.zeros((len(rows), 2, 2))
    if len(arcs):
        centre, axes[arcs], span = nodes[arcs, 0], nodes[arcs, 1:3], nodes[arcs, 3]
        ends = _on_arc(centre[:, None], axes[arcs][:, None], span)
        nodes[arcs] = ends[:, [0, 0, 1, 1]]
    linear = matrix[:, :4].reshape(-1, 2, 2)  # row vectors: p' = p @ [[a, b], [c, d]]
    return nodes @ linear + matrix[:, None, 4:6], axes @ linear


def _on_arc(centre: Floats, axes: Floats, t: Floats) -> Floats:
    u, v = axes[..., 0, :], axes[..., 1, :]
    points: Floats = centre + u * np.cos(t)[..., None] + v * np.sin(t)[..., None]
    return points


def _centres(rows: Floats, nodes: Floats, axes: Floats) -> Floats:
    """Centres of arcs in mm."""
    t = rows[:, 7, None]
    centres: Floats = nodes[:, 0] - axes[:, 0] * np.cos(t) - axes[:, 1] * np.sin(t)
    return centres


def _radii(axes: Floats) -> Floats:
    """The larger half axis: the norm of the map of a unit circle."""
    (a, b), (c, d) = axes[:, 0].T, axes[:, 1].T
    p, q = a * a + b * b + c * c + d * d, 2.0 * (a * d - b * c)
    radii: Floats = (np.sqrt(np.maximum(p + q, 0.0)) + np.sqrt(np.maximum(p - q, 0.0))) / 2.0
    return radii


def _extent(nodes: Floats, axes: Floats, rows: Floats) -> Floats:
    with np.errstate(all="ignore"):
        extent: Floats = np.abs(nodes[:, 1:] - nodes[:, :1]).max(axis=(1, 2), initial=0.0)
        arcs = np.flatnonzero(rows[:, 0] == ARC)
        extent[arcs] = _radii(axes[arcs]) * np.abs(rows[arcs, 8] - rows[arcs, 7])
    return extent


def _steps(rows: Floats, nodes: Floats, axes: Floats, tolerance: float) -> np.ndarray:
    """How many chords follow each segment."""
    steps = np.ones(len(rows), dtype=np.int64)
    cubics = np.flatnonzero(rows[:, 0] == CUBIC)
    if len(cubics):
        bend = np.diff(nodes[cubics], 2, axis=1)
        size = np.hypot(bend[..., 0], bend[..., 1]).max(axis=1)
        steps[cubics] = np.maximum(np.ceil(np.sqrt(0.75 * size / tolerance)), 1)
    arcs = np.flatnonzero(rows[:, 0] == ARC)
    if len(arcs):
        sag = np.minimum(tolerance / np.maximum(_radii(axes[arcs]), tolerance), 1.0)
        step = np.minimum(2.0 * np.arccos(1.0 - sag), WIDEST_STEP)
        steps[arcs] = np.maximum(np.ceil(np.abs(rows[arcs, 8] - rows[arcs, 7]) / step), 1)
    return steps


def _points(
    rows: Floats, nodes: Floats, axes: Floats, steps: np.ndarray
) -> tuple[Floats, np.ndarray]:
    """Points of all segments without their last ones, and where each segment's begin."""
    first = np.cumsum(steps) - steps
    points = np.empty((int(steps.sum()), 2))
    points[first] = nodes[:, 0]
    bent = np.flatnonzero(steps > 1)
    if not len(bent):
        return points, first
    which = np.repeat(bent, steps[bent] - 1)
    inner = steps[bent] - 1
    step = np.arange(len(which)) - np.repeat(np.cumsum(inner) - inner, inner) + 1
    t = step / steps[which]
    arc = rows[which, 0] == ARC
    where = first[which] + step
    c, s = which[~arc], t[~arc, None]
    r, p = 1.0 - s, nodes[c]
    points[where[~arc]] = (
        p[:, 0] * r**3 + p[:, 1] * (3 * r * r * s) + p[:, 2] * (3 * r * s * s) + p[:, 3] * s**3
    )
    a = which[arc]
    angle = rows[a, 7] + (rows[a, 8] - rows[a, 7]) * t[arc]
    points[where[arc]] = _on_arc(_centres(rows[a], nodes[a], axes[a]), axes[a], angle)
    return points, first


def _turns(
    rows: Floats, nodes: Floats, axes: Floats, owner: np.ndarray, closed: np.ndarray
) -> Floats:
    """Turn in degrees at the beginning of each segment; 0 where an open subpath begins."""
    if not len(rows):
        return np.zeros(0)
    leaving, arriving = _tangents(rows, nodes, axes)
    begins = np.flatnonzero(np.diff(owner, prepend=-1))
    ends = np.append(begins[1:], len(owner)) - 1
    before = np.arange(len(rows)) - 1
    before[begins] = ends
    p, q = arriving[before], leaving
    cross, dot = p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0], (p * q).sum(axis=1)
    turns: Floats = np.degrees(np.abs(np.arctan2(cross, dot)))
    turns[turns < SMOOTH] = 0.0
    turns[begins[~closed[owner[begins]]]] = 0.0
    return turns


def _tangents(rows: Floats, nodes: Floats, axes: Floats) -> tuple[Floats, Floats]:
    """Directions at the beginning and the end of each segment (of any length)."""
    leaving = _first_apart(nodes[:, 1:] - nodes[:, :1])
    arriving = _first_apart(nodes[:, 3:] - nodes[:, 2::-1])
    arcs = np.flatnonzero(rows[:, 0] == ARC)
    if len(arcs):
        sense = np.sign(rows[arcs, 8] - rows[arcs, 7])[:, None]
        u, v = axes[arcs, 0] * sense, axes[arcs, 1] * sense
        for way, column in ((leaving, 7), (arriving, 8)):
            t = rows[arcs, column, None]
            way[arcs] = v * np.cos(t) - u * np.sin(t)
    return leaving, arriving


def _first_apart(ways: Floats) -> Floats:
    """Of three directions each, the first that has a length (handles may lie on their ends)."""
    size = np.abs(ways).max(axis=2)
    choice = np.argmax(size > 1e-6 * size.max(axis=1, keepdims=True), axis=1)
    picked: Floats = ways[np.arange(len(ways)), choice]
    return picked


def _with_ends(
    points: Floats,
    turns: Floats,
    nodes: Floats,
    owner: np.ndarray,
    steps: np.ndarray,
    closed: np.ndarray,
    readable: np.ndarray,
) -> Flat:
    """Put the last point behind each open subpath."""
    total = np.bincount(owner, weights=steps, minlength=len(closed)).astype(np.int64)
    tails = (total > 0) & ~closed
    starts = np.concatenate([[0], np.cumsum(total + tails)])
    all_points, all_turns = np.empty((starts[-1], 2)), np.zeros(starts[-1])
    at_tail = np.zeros(starts[-1], dtype=bool)
    at_tail[starts[1:][tails] - 1] = True
    all_points[~at_tail], all_turns[~at_tail] = points, turns
    last = np.append(np.flatnonzero(np.diff(owner)), len(owner) - 1) if len(owner) else owner
    all_points[at_tail] = nodes[last[~closed[owner[last]]], 3]
    return Flat(all_points, all_turns, starts, readable)
