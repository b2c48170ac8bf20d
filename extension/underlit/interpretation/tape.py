"""Tape: strips and patches as they are painted, in laying order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from ..geometry.areas import painted_areas
from ..model.card import Patch, Strip
from ..model.drawing import Contour, Shape, Stroke
from ..records import record

#: A corner of a strip counts as a fold above this turn (degrees).
FOLD_TURN = 10.0

#: Largest inscribed circles are found within this (mm).
FINE = 0.002

#: An unfilled stroke thinner than this is a sketch, not tape (mm).
SKETCH_WIDTH = 1.5

#: What `underlit:polarity` may say.
LABELS = ("positive", "negative")


@record
class Tape:
    """What lies on the tape layers; `sketches` are thin lines that only plan a strip."""

    strips: tuple[Strip, ...]
    patches: tuple[Patch, ...]
    sketches: tuple[Shape, ...]


def read_tape(shapes: Sequence[Shape], corners: str) -> Tape:
    """Strips and patches of all tape objects, lowest first.

    `corners` of the tape: `fold` keeps a bent strip in one piece, `overlap` makes it
    separate straight pieces.
    """
    sketches = tuple(shape for shape in shapes if is_sketch(shape))
    painted = [shape for shape in shapes if not is_sketch(shape)]
    strips: list[Strip] = []
    patches: list[Patch] = []
    count: dict[str, int] = {}
    order = 0
    for shape, area in zip(painted, painted_areas(painted), strict=True):
        for piece in _pieces(area):
            for geometry, line in _straight(shape, piece, corners):
                count[shape.id] = count.get(shape.id, 0) + 1
                name = shape.id if count[shape.id] == 1 else f"{shape.id}#{count[shape.id]}"
                if shape.attributes.get("part") == "patch":
                    patches.append(Patch(name, shape.id, order, geometry))
                else:
                    strips.append(_strip(shape, name, order, geometry, line))
                order += 1
    return Tape(tuple(strips), tuple(patches), sketches)


def stroke_width(stroke: Stroke) -> float:
    """Drawn width in mm (the mean of both ways under an uneven transform)."""
    return float(stroke.width * np.sqrt(abs(np.linalg.det(stroke.linear))))


def is_sketch(shape: Shape) -> bool:
    """Whether a tape object is a thin unfilled line: a plan, not tape."""
    if shape.filled or shape.stroke is None or shape.attributes.get("part") == "patch":
        return False
    return stroke_width(shape.stroke) < SKETCH_WIDTH - 1e-6


def _pieces(area: BaseGeometry) -> list[BaseGeometry]:
    """Connected painted pieces, top to bottom, then left to right."""
    if area.geom_type == "Polygon":
        return [] if area.is_empty else [area]
    pieces = [p for p in shapely.get_parts(area) if p.geom_type == "Polygon"]
    return sorted(pieces, key=lambda p: (round(p.centroid.y, 2), round(p.centroid.x, 2)))


def _straight(
    shape: Shape, piece: BaseGeometry, corners: str
) -> Iterator[tuple[BaseGeometry, Contour | None]]:
    """The piece with its centre line, cut into straight runs where corners overlap."""
    line = _centre_line(shape, piece)
    if line is None or shape.stroke is None or corners != "overlap":
        yield piece, line
        return
    bends = np.flatnonzero(line.turns > FOLD_TURN)
    half = stroke_width(shape.stroke) / 2.0
    stops = [0, *(int(b) for b in bends), len(line.points) - 1]
    for start, stop in pairwise(stops):
        points = line.points[start : stop + 1]
        run = LineString(points).buffer(half, cap_style="square", join_style="mitre")
        part = _largest(run.intersection(piece))
        yield part, Contour(points, np.zeros(len(points)), False)


def _largest(area: BaseGeometry) -> BaseGeometry:
    parts = shapely.get_parts(area)
    return parts[int(np.argmax(shapely.area(parts)))] if len(parts) else area


def _centre_line(shape: Shape, piece: BaseGeometry) -> Contour | None:
    """The one open contour that a stroked piece follows, None for anything else."""
    if shape.filled or shape.stroke is None or shape.clip is not None:
        return None
    lines = [c for c in shape.contours if not c.closed and len(c.points) > 1]
    if len(shape.contours) > 1:
        lines = [c for c in lines if piece.intersects(LineString(c.points))]
    return lines[0] if len(lines) == 1 else None


def _strip(
    shape: Shape, name: str, order: int, geometry: BaseGeometry, line: Contour | None
) -> Strip:
    path = LineString(line.points) if line is not None else None
    if path is not None and shape.stroke is not None:
        width, length = stroke_width(shape.stroke), float(path.length)
    else:
        width = 2.0 * inscribed_radius(geometry)
        length = float(geometry.area / width) if width > 0 else 0.0
    polarity = shape.attributes.get("polarity")
    joint = shape.attributes.get("joint")
    return Strip(
        name=name,
        object=shape.id,
        order=order,
        geometry=geometry,
        width=width,
        length=length,
        folds=_folds(shape, geometry, line),
        line=path,
        stroked=path is not None,
        polarity=polarity if polarity in LABELS else None,
        unknown_label=None if polarity in LABELS else polarity or None,
        joint=joint if joint in {"folded-end", "soldered"} else None,
    )


def _folds(shape: Shape, geometry: BaseGeometry, line: Contour | None) -> int:
    """Corners over 10 degrees of the strokes in a piece (an outline has no folds)."""
    if shape.filled or shape.stroke is None:
        return 0
    lines = [line] if line is not None else list(shape.contours)
    if line is None and len(lines) > 1:
        lines = [c for c in lines if geometry.intersects(LineString(c.points))]
    return int(sum((c.turns > FOLD_TURN).sum() for c in lines))


def inscribed_radius(area: BaseGeometry) -> float:
    """Radius of the largest circle inside an area (mm), within `FINE`."""
    parts = [p for p in shapely.get_parts(area) if p.geom_type == "Polygon"]
    circles = (shapely.maximum_inscribed_circle(p, tolerance=FINE) for p in parts)
    return max((float(circle.length) for circle in circles), default=0.0)
