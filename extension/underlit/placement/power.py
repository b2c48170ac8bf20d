"""A battery centred under a chosen place, with all that belongs to it; or why not, and where.

Holder or bare coin, closed in any way. A press gets a foam ring, a flap its fold and two contacts
that meet, a bare battery the paper that keeps minus tape off its rim (the rim is plus), and where
wanted there is a pull tab. Tape that lies there already is no hindrance: it may lead there.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry import MultiPolygon
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_over
from ..profiles import Profile
from ..records import record
from ..stack import Layers
from ..units import TOLERANCE
from .power_data import Fold, Ground, Hindrance, NoPlace, Point, PowerPlace, Tab, Wish
from .power_flap import Flaps, find_fold, flaps_for, fold_distances
from .power_ring import ring_at, ring_sizes
from .power_room import Need, misses, needs_of, places
from .power_tab import find_tab, tab_obstacles
from .power_words import no_foam, no_fold, no_tab, sentence

#: Turns of a holder, in the order in which they are tried (degrees).
TURNS = (0.0, 90.0, 45.0, 135.0)

#: Of a search: least distance of its grid (mm), most places looked at, halvings at its end.
GRID, HALVINGS = 2.5, 8
MOST = {"flap": 300, "tab": 120}

#: Where a fold or a tab has to fit too, the nearest place is found within about this (mm).
FINE = 0.05

#: The nearest place is told with so many decimals (fewest first), within so many steps of them.
DECIMALS = (1, 2)
ROUND_ABOUT = 3

#: No more reasons than this are told: the worst come first.
TOLD = 3


@record
class Board:
    """What is the same for every place on a card: where no tab may go, and how flaps may lie."""

    taken: BaseGeometry
    flaps: Flaps | None


def place_power(wish: Wish, ground: Ground, profile: Profile, at: Point) -> PowerPlace | NoPlace:
    """Where a battery goes that is wanted at a place (page mm)."""
    board = Board(
        tab_obstacles(ground, profile.limits.opening_clearance) if wish.tab else MultiPolygon(),
        flaps_for(wish, ground, profile) if wish.closes == "flap" else None,
    )
    tried = _plan(wish, ground, profile, board, at)
    if isinstance(tried, PowerPlace):
        return tried
    if wish.closes == "press" and _foam(wish, profile) is None:
        return NoPlace(tried, None)
    return NoPlace(tried, _nearest(wish, ground, profile, board, at))


def _plan(
    wish: Wish, ground: Ground, profile: Profile, board: Board, at: Point
) -> PowerPlace | tuple[Hindrance, ...]:
    """The battery right there, or the reasons against it (of the way that lacks least)."""
    foam = _foam(wish, profile)
    if wish.closes == "press" and foam is None:
        return (no_foam(wish, profile),)
    best: tuple[float, tuple[Hindrance, ...]] | None = None
    found: PowerPlace | None = None
    for angle, inside, needs in _options(wish, ground, profile):
        missed = misses(needs, at)
        if missed:
            lack = max(m.need.limit - m.there for m in missed)
            if best is None or lack < best[0] - TOLERANCE:
                worst = sorted(missed, key=lambda m: m.there - m.need.limit)
                best = (lack, tuple(map(sentence, worst[:TOLD])))
            continue
        place = _complete(wish, ground, profile, board, at, angle, inside)
        if isinstance(place, Hindrance):
            best = (-1.0, (place,))
        elif place.tab is not None or not wish.tab:
            return place
        else:
            found = found or place
    if found is not None:
        return found
    return best[1] if best is not None else ()


def _options(
    wish: Wish, ground: Ground, profile: Profile
) -> Iterator[tuple[float, float, tuple[Need, ...]]]:
    """Angle, inside of the ring (0: none) and needs of every way to put it, best first."""
    limits, rule = profile.limits, profile.press
    figures = (limits.edge_margin, limits.opening_clearance, limits.smallest_gap)
    insides = tuple(ring_sizes(wish, rule)) if wish.closes == "press" else (0.0,)
    for inside in insides:
        for angle in (0.0,) if wish.bare else TURNS:
            outer = inside / 2.0 + rule.ring_width
            ring = (outer, rule.ring_clear) if inside else None
            yield angle, inside, needs_of(wish, ground, angle, *figures, ring)


def _foam(wish: Wish, profile: Profile) -> Layers | None:
    """The planned foam where it leaves the travel of a press."""
    foam, (low, high) = wish.foam, sorted(profile.press.travel)
    if foam is None or foam.travel is None:
        return None
    return foam if low - TOLERANCE <= foam.travel <= high + TOLERANCE else None


def _complete(
    wish: Wish,
    ground: Ground,
    profile: Profile,
    board: Board,
    at: Point,
    angle: float,
    inside: float,
) -> PowerPlace | Hindrance:
    """Fold, tab, ring and collar of a battery that has room; or what is missing."""
    fold: Fold | None = None
    fixed = None if wish.bare else angle
    if wish.closes == "flap":
        assert board.flaps is not None  # made for every flap
        fold = find_fold(wish, ground, profile, board.flaps, at)
        if fold is None:
            return no_fold(wish, fold_distances(wish, profile)[-1], profile.limits.edge_margin)
        fixed = (fold.angle + (180.0 if wish.up == "minus" else 0.0)) % 360.0
    tab: Tab | None = None
    if wish.tab:
        flap = None if fold is None else fold.moving
        found = find_tab(wish, ground, profile.press, at, fixed, board.taken, flap)
        if found is not None:
            tab, fixed = found
        elif wish.closes == "tab":
            return no_tab(profile)
    ring = None
    if inside:
        foam = _foam(wish, profile)
        assert foam is not None  # asked before
        area = None if tab is None else tab.area
        ring = ring_at(at, inside, profile.press.ring_width, foam, area)
    turn = 0.0 if fixed is None else fixed
    return PowerPlace(at, turn, ring, fold, tab, _collar(wish, ground, at, fold))


def _collar(wish: Wish, ground: Ground, at: Point, fold: Fold | None) -> BaseGeometry | None:
    """The paper about the contact that minus tape leads to, cut at the back sheet's edge.

    With minus on a flap it lies on the flap, where the rim will land.
    """
    if not wish.collar:
        return None
    on_flap = fold is not None and wish.up == "minus"
    centre = Spot(*(fold.contact if fold is not None and on_flap else at))
    hole = centre.buffer(wish.hole, quad_segs=48)
    outer = centre.buffer(wish.collar / np.cos(np.pi / 192.0), quad_segs=48)
    return outer.difference(hole).intersection(ground.base)


def _nearest(wish: Wish, ground: Ground, profile: Profile, board: Board, at: Point) -> Point | None:
    """The place nearest to the chosen one where everything fits."""
    best: Point | None = None
    for _, _, needs in _options(wish, ground, profile):
        free = places(needs)
        if free.is_empty:
            continue
        found = _in_free(free, wish, ground, profile, board, at)
        if found is not None and (best is None or _far(found, at) < _far(best, at) - FINE):
            best = found
    return None if best is None else _round_place(best, wish, ground, profile, board, at)


def _round_place(
    place: Point, wish: Wish, ground: Ground, profile: Profile, board: Board, at: Point
) -> Point:
    """A place beside this one with few decimals at which everything still fits.

    What is told can then be typed back. The place itself where there is no such one.
    """
    for decimals in DECIMALS:
        step = 10.0**-decimals
        around = np.arange(-ROUND_ABOUT, ROUND_ABOUT + 1)
        middle = np.round(np.array(place) / step)
        spots = (np.stack(np.meshgrid(around, around), axis=-1).reshape(-1, 2) + middle) * step
        far = np.hypot(*(spots - np.array(at)).T)
        near = np.hypot(*(spots - np.array(place)).T) <= ROUND_ABOUT * step
        for k in np.lexsort((spots[:, 0], spots[:, 1], np.round(far, 6))):
            spot = (round(float(spots[k, 0]), decimals), round(float(spots[k, 1]), decimals))
            if near[k] and isinstance(_plan(wish, ground, profile, board, spot), PowerPlace):
                return spot
    return place


def _in_free(
    free: BaseGeometry,
    wish: Wish,
    ground: Ground,
    profile: Profile,
    board: Board,
    at: Point,
) -> Point | None:
    """The nearest of some free places at which fold and tab fit as well."""
    first = shapely.get_coordinates(shapely.shortest_line(Spot(*at), free))[-1]
    for spot in [first, *_grid(free, at, MOST.get(wish.closes, 1))]:
        place = (float(spot[0]), float(spot[1]))
        if isinstance(_plan(wish, ground, profile, board, place), PowerPlace):
            return place if spot is first else _closer(place, wish, ground, profile, board, at)
        if wish.closes not in {"flap", "tab"}:
            return None  # nothing but room was asked for: a sliver of rounding
    return None


def _closer(
    place: Point,
    wish: Wish,
    ground: Ground,
    profile: Profile,
    board: Board,
    at: Point,
) -> Point:
    """A place on the way to the chosen one, as near to that as it still fits."""
    good, bad = np.array(place), np.array(at)
    for _ in range(HALVINGS):
        middle = (good + bad) / 2.0
        if isinstance(_plan(wish, ground, profile, board, (middle[0], middle[1])), PowerPlace):
            good = middle
        else:
            bad = middle
    return (float(good[0]), float(good[1]))


def _grid(free: BaseGeometry, at: Point, most: int) -> np.ndarray:
    """Places all over an area, (n, 2), nearest to `at` first; its corners are among them."""
    x0, y0, x1, y1 = free.bounds
    step = step_over(max(GRID, float(np.sqrt((x1 - x0) * (y1 - y0) / most))), free.bounds)
    xs, ys = np.arange(x0 + step / 2.0, x1, step), np.arange(y0 + step / 2.0, y1, step)
    points = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    points = points[shapely.contains(free, shapely.points(points))]
    corners = shapely.get_coordinates(free.simplify(1.0))
    points = np.concatenate([points, corners])
    far = np.hypot(*(points - np.array(at)).T)
    return points[np.lexsort((points[:, 0], points[:, 1], np.round(far, 3)))]


def _far(one: Point, other: Point) -> float:
    return float(np.hypot(one[0] - other[0], one[1] - other[1]))
