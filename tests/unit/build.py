"""Small shapes for unit tests: page mm, no SVG."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import cos, pi, sin

import numpy as np
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from underlit.model.drawing import Contour, Page, Shape, Stroke

PAGE = Page(200.0, 200.0, 1.0)

Points = Iterable[Sequence[float]]


def contour(points: Points, closed: bool = True, turns: Sequence[float] | None = None) -> Contour:
    """One subpath through points; every point counts as a node with its turn unless given."""
    array = np.array([tuple(p) for p in points], dtype=float).reshape(-1, 2)
    angles = corner_turns(array, closed) if turns is None else np.asarray(turns, dtype=float)
    return Contour(array, angles, closed)


def corner_turns(points: np.ndarray, closed: bool) -> np.ndarray:
    """Absolute turning angle (degrees) at every point, 0 at the ends of an open path."""
    if len(points) < 3:
        return np.zeros(len(points))
    before = points - np.roll(points, 1, axis=0)
    after = np.roll(points, -1, axis=0) - points
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turns = np.degrees(np.abs(np.arctan2(cross, (before * after).sum(axis=1))))
    if not closed:
        turns[[0, -1]] = 0.0
    return turns


def rectangle(x: float, y: float, width: float, height: float, closed: bool = True) -> Contour:
    """An upright rectangle, clockwise on screen from its top left."""
    right, bottom = x + width, y + height
    return contour([(x, y), (right, y), (right, bottom), (x, bottom)], closed)


def circle(x: float, y: float, radius: float, points: int = 96) -> Contour:
    """A circle as a flattened curve: no corners."""
    angles = [2.0 * pi * k / points for k in range(points)]
    places = [(x + radius * cos(a), y + radius * sin(a)) for a in angles]
    return contour(places, turns=[0.0] * points)


def line(*points: Sequence[float]) -> Contour:
    """An open polyline."""
    return contour(points, closed=False)


def backwards(outline: Contour) -> Contour:
    """The same contour run the other way."""
    return Contour(outline.points[::-1].copy(), outline.turns[::-1].copy(), outline.closed)


def pen(
    width: float,
    cap: str = "butt",
    join: str = "miter",
    miter_limit: float = 4.0,
    linear: Sequence[Sequence[float]] = ((1.0, 0.0), (0.0, 1.0)),
) -> Stroke:
    """A stroke; `linear` is the object's transform without its shift."""
    return Stroke(width, cap, join, miter_limit, np.array(linear, dtype=float))


def shape(
    role: str,
    contours: Contour | Iterable[Contour],
    id: str = "thing",
    *,
    stroke: Stroke | float | None = None,
    filled: bool | None = None,
    rule: str = "nonzero",
    index: int = 0,
    clip: BaseGeometry | None = None,
    **attributes: str,
) -> Shape:
    """A drawn object of a role; keyword arguments are its `underlit:*` attributes.

    A number as stroke is its width. Filled unless said otherwise where nothing is stroked.
    """
    return Shape(
        id=id,
        has_id=True,
        index=index,
        role=role,
        tag="path",
        contours=(contours,) if isinstance(contours, Contour) else tuple(contours),
        filled=(stroke is None) if filled is None else filled,
        fill_rule=rule,
        stroke=pen(float(stroke)) if isinstance(stroke, int | float) else stroke,
        clip=clip,
        attributes=attributes,
    )


def window(left: float, top: float, right: float, bottom: float) -> Polygon:
    """A rectangle as a clip."""
    return Polygon([(left, top), (right, top), (right, bottom), (left, bottom)])
