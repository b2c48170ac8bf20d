"""A paper tab from between battery and contact to an edge, to be pulled out."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ..profiles.materials import PressRule
from ..units import TOLERANCE
from .power_data import Ground, Point, Tab, Wish
from .power_room import turned

#: Directions that are tried besides the one to the nearest edge (degrees apart).
STEP = 5.0

#: A tab keeps this far from lights, parts, folds and overlaps of tape (mm); common practice.
KEEP = 1.0

#: A tab that has to pass foam counts as so much longer (mm): the foam must be cut open there.
FOAM_PRICE = 40.0

#: How far a tab reaches past the contact that it covers (mm).
PAST = 3.0


def tab_obstacles(ground: Ground, opening: float) -> BaseGeometry:
    """What no tab may cross: lights, parts, folds, overlaps of tape, windows.

    `opening` is the distance to windows (mm).
    """
    parts = [part.body for part in (*ground.lights, *ground.others)]
    near = shapely.buffer([*parts, ground.joints, ground.folds], KEEP, quad_segs=16)
    windows = shapely.buffer([o.clear for o in ground.openings], opening, quad_segs=16)
    return shapely.union_all([*near, *windows])


def find_tab(
    wish: Wish,
    ground: Ground,
    rule: PressRule,
    at: Point,
    angle: float | None,
    taken: BaseGeometry,
    flap: BaseGeometry | None = None,
) -> tuple[Tab, float] | None:
    """The best tab of a battery at a place, and the angle that the battery then has.

    `angle` is the battery's angle where something else has fixed it. `taken` are the obstacles
    (`tab_obstacles`), `flap` is what a fold moves. The shortest wins, past as little foam as may
    be; None: there is none.
    """
    sheet = ground.panel.union(ground.base)
    shapely.prepare(taken)
    best: tuple[float, int, Tab, float] | None = None
    for number, (origin, back, way, turn) in enumerate(_ways(wish, at, angle, sheet)):
        tab = _tab(origin, back, way, rule, sheet, ground)
        if tab is None or shapely.intersects(taken, tab.area) or _on_feet(wish, tab, turn, at):
            continue
        if flap is not None and flap.distance(tab.area) < KEEP:
            continue
        cost = tab.length + (FOAM_PRICE if tab.foam else 0.0)
        if best is None or (round(cost, 3), number) < best[:2]:
            best = (round(cost, 3), number, tab, turn)
    return None if best is None else (best[2], best[3])


def _ways(
    wish: Wish, at: Point, angle: float | None, sheet: BaseGeometry
) -> Iterator[tuple[Point, float, float, float]]:
    """Origin, reach backwards, direction of a tab, and the battery's angle that goes with it."""
    ways = np.arange(0.0, 360.0, STEP)
    edge = shapely.get_coordinates(shapely.shortest_line(Spot(*at), sheet.boundary))
    way = edge[-1] - edge[0]
    if np.hypot(*way) > TOLERANCE:
        ways = np.append(np.degrees(np.arctan2(way[1], way[0])) % 360.0, ways)
    pad = wish.pads[wish.upper_pad]
    centre = pad.centroid
    x0, y0, x1, y1 = pad.bounds
    half = max(x1 - x0, y1 - y0) / 2.0
    for one in ways.tolist():
        if not wish.bare or wish.closes == "flap":
            reach = wish.contact if wish.closes == "flap" else wish.radius
            yield at, reach + PAST, one, 0.0 if angle is None else angle
            continue
        turns = (one + 90.0, one - 90.0) if angle is None else (angle,)
        for turn in turns:
            spot = turned(centre, turn, at)
            yield (float(spot.x), float(spot.y)), half + PAST, one, turn % 360.0


def _tab(
    origin: Point, back: float, way: float, rule: PressRule, sheet: BaseGeometry, ground: Ground
) -> Tab | None:
    """The tab in one direction: out over one edge, and nowhere in again."""
    x0, y0, x1, y1 = sheet.bounds
    far = float(np.hypot(x1 - x0, y1 - y0))
    corridor = _band(origin, way, back, far, rule.tab_width)
    within = [p for p in shapely.get_parts(corridor.intersection(sheet)) if p.area > TOLERANCE]
    piece = next((p for p in within if p.distance(Spot(*origin)) < TOLERANCE), None)
    if piece is None:
        return None
    along = np.array([np.cos(np.radians(way)), np.sin(np.radians(way))])
    leaves = float(((shapely.get_coordinates(piece) - np.array(origin)) @ along).max())
    length = leaves + rule.tab_grip
    area = _band(origin, way, back, length, rule.tab_width)
    if any(p is not piece and p.intersection(area).area > TOLERANCE for p in within):
        return None
    foam = [s for s in ground.foam if s.geometry.intersection(area).area > TOLERANCE]
    names = tuple(sheet.object for sheet in foam)
    return Tab(origin, way, length, back, rule.tab_width, rule.tab_grip, area, names)


def _band(origin: Point, way: float, back: float, length: float, width: float) -> Polygon:
    half = width / 2.0
    corners = Polygon([(-back, -half), (length, -half), (length, half), (-back, half)])
    return turned(corners, way, origin)


def _on_feet(wish: Wish, tab: Tab, turn: float, at: Point) -> bool:
    """Whether a tab lies over the feet of a holder, where tape is joined to them."""
    if wish.bare:
        return False
    feet = (turned(pad, turn, at) for pad in wish.pads.values())
    return any(foot.intersection(tab.area).area > TOLERANCE for foot in feet)
