"""The flap that closes a bare battery: where the back sheet folds, and its contact drawn open.

The contact on the flap lies as far beyond the fold as the battery's middle lies before it, so that
the two meet when the flap is folded over.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import LineString, MultiPolygon
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from ..profiles import Profile
from ..records import record
from ..units import TOLERANCE
from .power_data import Fold, Ground, Point, Wish
from .power_room import BETWEEN

#: Directions that are tried besides those square to the sheet's long edges (degrees apart).
STEP = 15.0

#: A fold that is neither along a long edge nor at 45 degrees to one counts as so much larger.
ASKEW = 1.5

#: Edges of the back sheet from this length on are tried for a fold along them (mm).
LONG_EDGE = 10.0

#: A folded flap may stand out from under the panel by this much (mm; rule base-shows).
PEEPS = 0.1

#: The cut along a fold is this wide (mm).
HAIR = 1e-6


def fold_distances(wish: Wish, profile: Profile) -> tuple[float, ...]:
    """From the battery's middle to the fold: the distance aimed at, then the smallest."""
    rule = profile.press
    least = max(wish.radius + min(rule.fold_beside_min, rule.fold_beside), wish.collar + BETWEEN)
    aim = max(wish.radius + rule.fold_beside, least)
    return (aim, least) if least < aim else (aim,)


@record
class Flaps:
    """What all flaps of a card have in common: directions with their prices, and where a contact
    may lie. `beyond` is how far windows, lights, parts and foam reach in each direction, where
    the back sheet is convex, so that everything beyond a fold moves (None: it is not).
    """

    angles: np.ndarray
    ways: np.ndarray
    prices: np.ndarray
    room: BaseGeometry
    beyond: np.ndarray | None


def flaps_for(wish: Wish, ground: Ground, profile: Profile) -> Flaps:
    """Directions and room for the flaps of a battery."""
    angles, prices = _angles(ground.base)
    ways = np.stack([np.cos(np.radians(angles)), np.sin(np.radians(angles))], axis=1)
    room = ground.base.buffer(-(profile.limits.edge_margin + wish.contact), quad_segs=16)
    shapely.prepare(room)
    hull = shapely.convex_hull(ground.base)
    beyond = None
    if hull.area - ground.base.area < TOLERANCE:
        points = shapely.get_coordinates(_things(ground))
        reach = points @ ways.T if len(points) else np.full((1, len(ways)), -np.inf)
        beyond = reach.max(axis=0)
    return Flaps(angles, ways, prices, room, beyond)


def find_fold(wish: Wish, ground: Ground, profile: Profile, flaps: Flaps, at: Point) -> Fold | None:
    """The flap that moves least of the back sheet, None where there is none."""
    along = flaps.ways @ np.array(at)
    for distance in fold_distances(wish, profile):
        contacts = np.array(at) + 2.0 * distance * flaps.ways
        fits = shapely.covers(flaps.room, shapely.points(contacts))
        if flaps.beyond is not None:
            fits &= flaps.beyond < along + distance + TOLERANCE
        found = []
        for i in np.flatnonzero(fits).tolist():
            fold = _fold(wish, ground, at, float(flaps.angles[i]), flaps.ways[i], distance)
            if fold is not None:
                found.append((round(float(fold.moving.area * flaps.prices[i]), 2), i, fold))
        if found:
            return min(found, key=lambda one: one[:2])[2]
    return None


def _angles(base: BaseGeometry) -> tuple[np.ndarray, np.ndarray]:
    """Directions in which a flap may lie from its battery, and what makes some of them dear."""
    edges = [np.zeros(1)]
    for ring in shapely.get_rings(shapely.get_parts(base)):
        ways = np.diff(shapely.get_coordinates(ring), axis=0)
        ways = ways[np.hypot(ways[:, 0], ways[:, 1]) >= LONG_EDGE]
        edges.append(np.degrees(np.arctan2(ways[:, 1], ways[:, 0])) % 45.0)
    neat = np.unique(np.round(np.concatenate(edges), 6) % 45.0)
    neat = np.unique((neat[:, None] + np.arange(0.0, 360.0, 45.0)).ravel())
    others = np.setdiff1d(np.arange(0.0, 360.0, STEP), neat)
    angles = np.concatenate([neat, others])
    return angles, np.where(np.arange(len(angles)) < len(neat), 1.0, ASKEW)


def _fold(
    wish: Wish, ground: Ground, at: Point, angle: float, way: np.ndarray, distance: float
) -> Fold | None:
    """The flap in one direction, None where something is in its way."""
    foot = np.array(at) + distance * way
    contact = np.array(at) + 2.0 * distance * way
    line = _line(ground.base, foot, way)
    if line is None:
        return None
    moving = _moving(ground.base, line, Spot(*at))
    disc = Spot(*contact).buffer(wish.contact, quad_segs=16)
    body = Spot(*at).buffer(wish.radius, quad_segs=16)
    if not moving.covers(disc) or moving.intersects(body):
        return None
    landed = shapely.transform(moving, lambda points: _mirrored(points, foot, way))
    if _hindered(ground, moving, landed):
        return None
    (x0, y0), (x1, y1) = line.coords
    spot = (float(contact[0]), float(contact[1]))
    return Fold((x0, y0), (x1, y1), distance, angle, spot, moving)


def _line(base: BaseGeometry, foot: np.ndarray, way: np.ndarray) -> LineString | None:
    """The stretch of a fold line on the back sheet that runs through its foot."""
    x0, y0, x1, y1 = base.bounds
    far = float(np.hypot(x1 - x0, y1 - y0))
    along = far * np.array([-way[1], way[0]])
    cut = LineString([foot - along, foot + along]).intersection(base)
    for part in shapely.get_parts(cut):
        if part.geom_type == "LineString" and part.distance(Spot(*foot)) < TOLERANCE:
            ends = shapely.get_coordinates(part)
            return LineString([ends[0], ends[-1]])
    return None


def _moving(base: BaseGeometry, line: LineString, centre: Spot) -> BaseGeometry:
    """What of the back sheet hangs on a fold, the piece with the battery left out."""
    pieces = shapely.get_parts(base.difference(line.buffer(HAIR, cap_style="square")))
    near = [p for p in pieces if p.area > TOLERANCE and p.distance(line) < TOLERANCE]
    if len(near) < 2 or not any(p.covers(centre) for p in near):
        return MultiPolygon()
    return shapely.union_all([p for p in near if not p.covers(centre)])


def _mirrored(points: np.ndarray, foot: np.ndarray, way: np.ndarray) -> np.ndarray:
    """Points reflected in the line through `foot` square to `way`."""
    off = (points - foot) @ way
    result: np.ndarray = points - 2.0 * off[:, None] * way
    return result


def _hindered(ground: Ground, moving: BaseGeometry, landed: BaseGeometry) -> bool:
    """Whether a flap takes along or covers anything, or lands outside the panel."""
    for thing in _things(ground):
        if thing.intersects(moving) or thing.intersects(landed):
            return True
    beyond = landed.difference(ground.panel.buffer(PEEPS))
    return bool(beyond.area > TOLERANCE)


def _things(ground: Ground) -> list[BaseGeometry]:
    """What a flap may neither take along nor cover."""
    found = [o.clear for o in ground.openings]
    found += [part.body for part in (*ground.lights, *ground.others)]
    found += [sheet.geometry for sheet in ground.foam]
    found += [ground.joints, ground.folds]
    return [thing for thing in found if not thing.is_empty]
