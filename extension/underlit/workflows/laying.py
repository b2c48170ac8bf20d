"""A drawing with strips laid and lights turned, as it will be read once it is drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from ..model.drawing import Contour, Drawing, Shape, Stroke
from ..records import record

Point = tuple[float, float]


@record
class LaidStrip:
    """A strip of tape to be drawn: its corners in page mm, width (mm), positive | negative."""

    name: str
    points: tuple[Point, ...]
    width: float
    sign: str
    joint: str | None = None


@record
class LaidPatch:
    """Insulating paper to be drawn: corners in page mm; laid before strip number `before`."""

    name: str
    corners: tuple[Point, ...]
    before: int


def laying_order(
    strips: Sequence[LaidStrip], patches: Sequence[LaidPatch]
) -> list[LaidStrip | LaidPatch]:
    """Strips with the patches between them, first laid first."""
    found: list[LaidStrip | LaidPatch] = []
    for k in range(len(strips) + 1):
        found += [patch for patch in patches if patch.before == k]
        found += strips[k : k + 1]
    return found


def with_tape(
    drawing: Drawing,
    strips: Sequence[LaidStrip | LaidPatch],
    turns: Mapping[str, tuple[Point, float]],
    removed: frozenset[str],
    below: str | None = None,
) -> Drawing:
    """The drawing with strips and patches on top of its tape, parts turned, `removed` gone.

    `below`: id of the patch under which the strips go instead (paper over a battery's rim).
    `turns` maps the id of a part to the place about which it turns and the angle (degrees).
    """
    turned = {
        i: turns[part.id]
        for i, part in enumerate(drawing.parts)
        if part.id in turns and part.kind == "light"
    }
    shapes = [
        _turned(shape, *turned[shape.part]) if shape.part in turned else shape
        for shape in drawing.shapes
        if not (shape.role == "tape" and shape.id in removed)
    ]
    parts = tuple(
        replace(part, matrix=_composed(_matrix(*turned[i]), part.matrix)) if i in turned else part
        for i, part in enumerate(drawing.parts)
    )
    first = max((shape.index for shape in drawing.shapes), default=0) + 1
    laid = [
        _shape(one, first + k) if isinstance(one, LaidStrip) else _paper(one, first + k)
        for k, one in enumerate(strips)
    ]
    place = next((k for k, s in enumerate(shapes) if s.id == below), len(shapes))
    shapes[place:place] = laid
    return replace(drawing, shapes=tuple(shapes), parts=parts)


def _shape(strip: LaidStrip, index: int) -> Shape:
    points = np.array(strip.points, dtype=float)
    attributes = {"polarity": strip.sign}
    if strip.joint is not None:
        attributes["joint"] = strip.joint
    return Shape(
        id=strip.name,
        has_id=True,
        index=index,
        role="tape",
        tag="path",
        contours=(Contour(points, _corners(points), False),),
        filled=False,
        fill_rule="nonzero",
        stroke=Stroke(strip.width, "butt", "round", 4.0, np.eye(2)),
        clip=None,
        attributes=attributes,
    )


def _paper(patch: LaidPatch, index: int) -> Shape:
    points = np.array(patch.corners, dtype=float)
    return Shape(
        id=patch.name,
        has_id=True,
        index=index,
        role="tape",
        tag="path",
        contours=(Contour(points, np.full(len(points), 90.0), True),),
        filled=True,
        fill_rule="nonzero",
        stroke=None,
        clip=None,
        attributes={"part": "patch"},
    )


def _corners(points: np.ndarray) -> np.ndarray:
    """Turning angle at each point in degrees, 0 at both ends."""
    ways = np.diff(points, axis=0)
    headings = np.arctan2(ways[:, 1], ways[:, 0])
    bends = np.abs((np.diff(headings) + np.pi) % (2.0 * np.pi) - np.pi)
    return np.concatenate([[0.0], np.degrees(bends), [0.0]])


def _matrix(centre: Point, angle: float) -> np.ndarray:
    """(3, 3) rotation about a place of the page."""
    c, s = np.cos(np.radians(angle)), np.sin(np.radians(angle))
    x, y = centre
    return np.array([[c, -s, x - c * x + s * y], [s, c, y - s * x - c * y], [0.0, 0.0, 1.0]])


def _composed(turn: np.ndarray, matrix: np.ndarray) -> np.ndarray:
    """(2, 3): a part's own map, then the turn."""
    whole: np.ndarray = turn[:2] @ np.vstack([matrix, [0.0, 0.0, 1.0]])
    return whole


def _turned(shape: Shape, centre: Point, angle: float) -> Shape:
    matrix = _matrix(centre, angle)
    contours = tuple(
        replace(c, points=c.points @ matrix[:2, :2].T + matrix[:2, 2]) for c in shape.contours
    )
    return replace(shape, contours=contours)
