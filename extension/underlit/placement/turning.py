"""Which way a light is turned, so that tape of both polarities can reach it.

A heuristic; whatever lays the tape may turn the light again. Of the turns that are allowed the one
of least cost is taken, the first of equal ones. Costs are in mm of missing room or mm2 of tape to
be seen, weighed by the constants below (common practice, no source):

- tape that must land at a foot and would show in a foreign opening, or in its own;
- free way to both feet: how far each is from the base's edge, other parts, foreign openings;
- turn off the normal of the line to its neighbours: lights in a row stand across the row, like
  rungs, so that one strip can pass along all their plus feet and one along all minus feet;
- the wrong sense: plus points up, or to the right where it cannot, so that a row is alike;
- turns that are no multiple of 90 degrees, which a hand keeps less easily, but those of a row.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..profiles import LightType
from .figures import Poses, landings
from .room import Occupied

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

#: Free turns are multiples of this (degrees): finer ones no hand keeps.
STEP = 15.0

#: Free way to a foot beyond this is no better (mm).
FREE_WAY = 8.0

#: Cost of a mm2 of tape in a foreign opening, and in the light's own.
FOREIGN = 1.0
OWN = 0.15

#: Cost of standing along the row instead of across it, and of the wrong sense.
ALONG = 6.0
SENSE = 0.5

#: Cost of a turn of 45 degrees and of any other that is no multiple of 90.
ASKEW = 1.2
ODD = 3.5

#: Three places are a row where their directions agree so well (1: on one line) and the farther
#: neighbour is not so many times as far.
STRAIGHT = 0.99
FARTHER = 2.5

#: Neighbours beyond this say nothing about a row (mm).
NEIGHBOUR = 80.0


def turns_of(turn: str | float) -> Floats:
    """The turns that a wish allows (degrees)."""
    if turn == "free":
        return np.arange(0.0, 360.0, STEP)
    if turn == "45":
        return np.arange(0.0, 360.0, 45.0)
    return np.array([float(turn) % 360.0])


def across(places: Floats, i: int) -> float | None:
    """The turn (0 to 180) across the row in which place i stands; None where it stands alone.

    The row runs to the two nearest other places: their directions as an axis, the nearer one
    weighing more. Where the three make no row the turn is rounded to 45 degrees.
    """
    away = np.delete(places, i, axis=0) - places[i]
    far = np.hypot(away[:, 0], away[:, 1])
    usable = (far <= NEIGHBOUR) & (far > 0.0)
    order = np.argsort(far[usable], kind="stable")[:2]
    if not len(order):
        return None
    near = far[usable][order]
    z = (away[usable][order] @ np.array([1.0, 1.0j])) / near
    axis = (z**2 / near**2).sum()
    if abs(axis) < 1e-12:
        return None
    turn = float(np.degrees(np.angle(axis)) / 2.0 + 90.0) % 180.0
    straight = abs(axis) >= STRAIGHT * float((1.0 / near**2).sum())
    in_row = len(near) == 2 and straight and near[1] <= FARTHER * near[0]
    return turn if in_row else 45.0 * round(turn / 45.0) % 180.0


def costs(
    found: Poses,
    light: LightType,
    tape: float,
    wanted: float | None,
    occupied: Occupied,
    near: list[int],
    own: BaseGeometry,
    foreign: list[BaseGeometry],
) -> Floats:
    """(k,) costs of turns at one place.

    `wanted` is the turn across the row, `near` indexes parts close by, `own` is what stays open of
    the light's own opening and `foreign` are the other openings close by.
    """
    strips = landings(light, found, tape)
    cost = OWN * shapely.area(shapely.intersection(strips, own)).sum(axis=1)
    for opening in foreign:
        cost = cost + FOREIGN * shapely.area(shapely.intersection(strips, opening)).sum(axis=1)
    feet = np.stack([found.plus, found.minus], axis=1)
    way = np.minimum(shapely.distance(feet, occupied.edge), FREE_WAY)
    for obstacle in [occupied.shape(i)[0] for i in near] + foreign:
        way = np.minimum(way, shapely.distance(feet, obstacle))
    cost = cost + (FREE_WAY - way).sum(axis=1)
    off = np.abs((found.turns - (wanted or 0.0) + 90.0) % 180.0 - 90.0)
    cost = cost + ALONG * off / 90.0
    up = np.sin(np.deg2rad(found.turns))
    right = np.cos(np.deg2rad(found.turns))
    wrong = np.where(np.abs(up) > 1e-6, up > 0.0, right < 0.0)
    askew = np.where(found.turns % 90.0 == 0.0, 0.0, np.where(found.turns % 45.0, ODD, ASKEW))
    in_row = (off <= STEP / 2.0) & (wanted is not None)
    cost = cost + np.where(in_row, 0.0, askew)
    return np.asarray(np.round(cost + SENSE * wrong, 6))
