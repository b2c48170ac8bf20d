"""A flap folded over: which part of the base moves, and where its things land."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import shapely
from shapely.geometry import LineString, MultiPolygon
from shapely.geometry.base import BaseGeometry

from ..model.card import Card, Fold, Part
from ..records import record
from ..units import TOLERANCE

#: A fold line may stop this far short of the base's edge (mm): drawn by hand.
SHORT_OF_EDGE = 1.0

#: A flap is cut away with this much around it, so that no hair-thin spike is left (mm).
HAIR = 1e-4


@record
class Flap:
    """A flap: the cell it closes, the part of the base that moves, and how it lands."""

    fold: Fold
    cell: Part
    moving: BaseGeometry
    land: Callable[[BaseGeometry], BaseGeometry]


def flaps_of(card: Card) -> tuple[Flap, ...]:
    """Every flap of a card whose cell exists and whose line cuts the base."""
    found = []
    for fold in card.folds:
        cell = next((cell for cell in card.cells if cell.id == fold.cell), None)
        if cell is None:
            continue
        moving = _moving(card.base, fold.line, cell.body)
        if not moving.is_empty:
            found.append(Flap(fold, cell, moving, mirror(fold.line)))
    return tuple(found)


def mirror(line: LineString) -> Callable[[BaseGeometry], BaseGeometry]:
    """Reflection in a straight line (its first and last point)."""
    start, end = np.asarray(line.coords[0]), np.asarray(line.coords[-1])
    way = (end - start) / np.hypot(*(end - start))

    def reflect(points: np.ndarray) -> np.ndarray:
        along = (points - start) @ way
        result: np.ndarray = 2.0 * (start + along[:, None] * way) - points
        return result

    return lambda geometry: shapely.transform(geometry, reflect)


def folded(area: BaseGeometry, flap: Flap) -> BaseGeometry:
    """An area with the flap folded over."""
    still = area.difference(flap.moving.buffer(HAIR, join_style="mitre"))
    return shapely.union_all([still, flap.land(area.intersection(flap.moving))])


def _moving(base: BaseGeometry, line: LineString, body: BaseGeometry) -> BaseGeometry:
    """The pieces on the fold line that do not carry the cell's body."""
    for reach in (SHORT_OF_EDGE, 10_000.0):
        cut = _extended(line, reach)
        pieces = shapely.get_parts(base.difference(cut.buffer(1e-7, cap_style="flat")))
        near = [p for p in pieces if p.area > TOLERANCE and p.distance(line) < TOLERANCE]
        if len(near) > 1:
            keep = max(near, key=lambda p: p.intersection(body).area)
            return shapely.union_all([p for p in near if p is not keep])
    return MultiPolygon()


def _extended(line: LineString, reach: float) -> LineString:
    start, end = np.asarray(line.coords[0]), np.asarray(line.coords[-1])
    way = (end - start) / np.hypot(*(end - start))
    return LineString([start - reach * way, end + reach * way])
