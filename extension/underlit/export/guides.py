"""Lines for a pen on the base: where lights, tape and battery go. Closed outlines, page mm."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from ..model.card import Card, Part
from ..model.case import Case
from .cut import Outline
from .pieces import polygons

#: Plus and minus beside a light: half their size, and how far beyond the body (mm).
ARM, BEYOND = 1.2, 2.0

#: Half the width of a sign's stroke as a share of its arm.
THIN = 0.3

#: The side of the battery that is up, drawn in its disc: half its size as a share of the radius.
CELL_ARM = 0.25

#: The spot to press: radius of its circle (mm).
PRESS = 2.0


def guide_outlines(case: Case) -> list[Outline]:
    """Everything that a pen draws on the base."""
    card = case.card
    found = _tape(case)
    for light in card.lights:
        found += _light(light)
    for cell in card.cells:
        found += _cell(cell)
    for part in card.switches + card.resistors:
        found += outlines(part.id, part.body)
    found += _folds(card)
    return found


def outlines(label: str, area: BaseGeometry) -> list[Outline]:
    """Every ring of an area, holes first."""
    return [
        Outline(
            label,
            tuple(shapely.get_coordinates(r)[:-1] for r in (*part.interiors, part.exterior)),
        )
        for part in polygons(area)
    ]


def plus(at: np.ndarray, arm: float) -> Outline:
    """A plus as a closed outline."""
    t = THIN * arm
    corner = np.array([(t, -arm), (t, -t), (arm, -t)])
    turn = np.array([[0.0, 1.0], [-1.0, 0.0]])
    corners = [corner]
    for _ in range(3):
        corners.append(corners[-1] @ turn)
    return Outline("plus", (np.concatenate(corners) + at,))


def minus(at: np.ndarray, arm: float) -> Outline:
    """A minus as a closed outline."""
    t = THIN * arm
    return Outline("minus", (np.array([(-arm, -t), (arm, -t), (arm, t), (-arm, t)]) + at,))


def _tape(case: Case) -> list[Outline]:
    """Edges of the tape: all strips of one side as one shape."""
    sides: dict[str | None, list[BaseGeometry]] = {}
    for strip, sign in zip(case.card.strips, case.signs, strict=False):
        sides.setdefault(sign, []).append(strip.geometry)
    words = {"positive": "tape-plus", "negative": "tape-minus", None: "tape"}
    return [
        outline
        for sign, word in words.items()
        if sign in sides
        for outline in outlines(word, shapely.union_all(sides[sign]))
    ]


def _light(light: Part) -> list[Outline]:
    """Body with its signs beyond its two ends."""
    ends = [
        shapely.get_coordinates(light.features[name].centroid)[0]
        for name in ("positive-pad", "negative-pad")
    ]
    along = ends[0] - ends[1]
    along = along / max(float(np.hypot(*along)), 1e-9)
    middle = shapely.get_coordinates(light.body.centroid)[0]
    reach = float(np.abs((shapely.get_coordinates(light.body) - middle) @ along).max())
    out = along * (reach + BEYOND)
    return [*outlines(light.id, light.body), plus(middle + out, ARM), minus(middle - out, ARM)]


def _cell(cell: Part) -> list[Outline]:
    """Disc or holder, the side that is up, the spot to press."""
    left, top, right, bottom = cell.body.bounds
    half = min(right - left, bottom - top) / 2.0
    middle = np.array([(left + right) / 2.0, (top + bottom) / 2.0])
    sign = minus if cell.attributes.get("up") == "minus" else plus
    found = [*outlines(cell.id, cell.body), sign(middle - (0.0, half * 0.5), CELL_ARM * half)]
    if cell.attributes.get("closes", "press") == "press":
        found += outlines("press", Point(*middle).buffer(PRESS))
    return found


def _folds(card: Card) -> list[Outline]:
    """Fold lines, there and back, as far as they lie on the base."""
    return [
        Outline("fold", (shapely.get_coordinates(line)[[0, -1]],))
        for fold in card.folds
        for line in _on_base(fold.line, card.base)
        if line.length > 0.0
    ]


def _on_base(line: LineString, base: BaseGeometry) -> list[LineString]:
    if base.is_empty or base.covers(line):
        return [line]
    parts = shapely.get_parts(shapely.intersection(line, base))
    return [part for part in parts if part.geom_type == "LineString"]
