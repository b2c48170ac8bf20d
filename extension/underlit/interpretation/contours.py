"""Closed outlines and open lines of drawn objects; geometry counts, paint does not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ..geometry.areas import filled_area
from ..language import decimal, say
from ..model.drawing import Contour, Shape
from ..model.finding import Finding
from ..records import record
from ..units import FLATNESS

#: A path whose ends are no farther apart than this is closed (mm).
CLOSED_GAP = 0.05

#: Closed outlines smaller than this are specks (mm2).
SPECK = 2.0


@record
class Outline:
    """One closed line: the simple polygon inside it, and the shape that draws it.

    `curved` is the share of its points that only follow a curve.
    """

    area: Polygon
    shape: Shape
    curved: float = 0.0


def is_closed(contour: Contour) -> bool:
    """Whether a contour closes by itself or its ends (nearly) meet."""
    return contour.closed or end_gap(contour) <= CLOSED_GAP + 1e-6


def end_gap(contour: Contour) -> float:
    """Distance between the two ends (mm)."""
    if len(contour.points) < 2:
        return 0.0
    dx, dy = contour.points[-1] - contour.points[0]
    return hypot(dx, dy)


def closed_outlines(shapes: Sequence[Shape]) -> tuple[list[Outline], list[Finding]]:
    """Every closed line of all shapes, in drawing order; what has no area is left out.

    Lines that run over themselves are taken as what their fill rule fills: each ring of that
    is an outline. Where the fill rule matters there (`outline-crosses-itself`) a finding says
    so; each line is judged alone, since nesting decides about the lines of one path.
    """
    owners = [
        (shape, contour)
        for shape in shapes
        for contour in shape.contours
        if len(contour.points) > 2 and is_closed(contour)
    ]
    if not owners:
        return [], []
    points = np.concatenate([contour.points for _, contour in owners])
    number = np.repeat(np.arange(len(owners)), [len(c.points) for _, c in owners])
    areas = shapely.polygons(shapely.linearrings(points, indices=number))
    outlines: list[Outline] = []
    findings: list[Finding] = []
    for (shape, contour), area, simple in zip(owners, areas, shapely.is_valid(areas), strict=True):
        if simple and shape.clip is None:
            curved = 1.0 - np.count_nonzero(contour.turns) / len(contour.points)
            outlines.append(Outline(area, shape, curved))
            continue
        if not simple:
            findings += _crossing(shape, contour)
        whole = area if simple else filled_area([contour], shape.fill_rule)
        outlines += [Outline(ring, shape) for ring in _rings(whole, shape.clip)]
    return outlines, findings


def _rings(area: BaseGeometry, clip: BaseGeometry | None) -> Iterator[Polygon]:
    """Outer and inner edges of an area, each as a polygon of its own."""
    seen = area if clip is None else area.intersection(clip)
    for part in shapely.get_parts(seen):
        if part.geom_type == "Polygon" and not part.is_empty:
            yield Polygon(part.exterior)
            yield from (Polygon(ring) for ring in part.interiors)


def _crossing(shape: Shape, contour: Contour) -> Iterator[Finding]:
    from ..geometry.crossing import self_crossing  # late: no ordinary card needs it

    found = self_crossing(contour.points, shape.fill_rule)
    if found is not None:
        at, amount = found
        yield Finding(
            "outline-crosses-itself",
            "stop",
            at,
            (shape.id,),
            say(
                "This outline crosses itself here: {area} mm² could be cut or kept.",
                area=decimal(f"{amount:.2f}"),
            ),
            say("Pull the loop apart with the node tool, or use Path > Union."),
        )


def is_speck(outline: Outline) -> bool:
    """Whether an outline is too small to mean anything.

    A flattened curve lies inside the true one by two thirds of the flatness in the mean.
    """
    area = outline.area
    lost = 2.0 / 3.0 * FLATNESS * area.length * outline.curved
    return bool(area.area + lost < SPECK - 1e-6)
