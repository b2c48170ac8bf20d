"""What a drawn part consists of: outlines with paint, some of them features."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ...records import record

Point = tuple[float, float]


@record
class Rings:
    """Closed rings, each (n, 2) float64 without a repeated end; even-odd makes holes."""

    rings: tuple[np.ndarray, ...]


@record
class Disc:
    """A full circle."""

    at: Point
    radius: float


@record
class Box:
    """An upright rectangle; `corner` is the radius of its corners."""

    left: float
    top: float
    width: float
    height: float
    corner: float = 0.0


@record
class Line:
    """An open polyline, (n, 2) float64; only its stroke is seen."""

    points: np.ndarray


Outline = Rings | Disc | Box | Line


@record
class Paint:
    """Colours are "#rrggbb", None paints nothing; `width` of the stroke and `dash` in mm."""

    fill: str | None
    stroke: str | None = None
    width: float = 0.0
    opacity: float = 1.0
    dash: tuple[float, ...] = ()


@record
class PartShape:
    """One outline. `feature` is its word in the conventions, None for mere decoration."""

    outline: Outline
    feature: str | None
    paint: Paint


@record
class PartDrawing:
    """A whole part in its own frame (mm), painted in the order of its shapes.

    `kind` and `attributes` become `underlit:part` and further `underlit:*` attributes; `title`
    says in plain words what it is.
    """

    kind: str
    title: str
    attributes: Mapping[str, str]
    shapes: tuple[PartShape, ...]

    def feature(self, name: str) -> Outline:
        """The outline of a feature. Raises KeyError."""
        for shape in self.shapes:
            if shape.feature == name:
                return shape.outline
        raise KeyError(name)


def centred(at: Point, width: float, height: float, corner: float = 0.0) -> Box:
    """A box about a point."""
    return Box(at[0] - width / 2.0, at[1] - height / 2.0, width, height, corner)


def polyline(*points: Point) -> Line:
    """An open line through points."""
    return Line(np.array(points, dtype=float))


def polygon(*points: Point) -> Rings:
    """One closed ring."""
    return Rings((np.array(points, dtype=float),))
