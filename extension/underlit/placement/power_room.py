"""The room that a battery needs, and the places where it has that room.

Every need is a shape that moves with the battery (a disc, or the outline of a holder) and what it
must lie inside or keep clear of. The places that meet a need are an erosion or the outside of a
dilation, so the place nearest to the chosen one can be asked for.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from ..language import say
from ..model.naming import INNER, by_program, named
from ..records import record
from ..units import TOLERANCE
from .power_data import Ground, Point, Wish

#: Arcs of buffers: how many segments a quarter circle has, and by how much they cut it short.
QUARTER = 32
SHORT = 1.0 / float(np.cos(np.pi / (4 * QUARTER)))

#: Round a holder, outlines are followed within this, on the safe side (mm).
COARSE = 0.02

#: Between the bodies of two parts, so that fingers get in (mm); common practice, no source.
BETWEEN = 1.0


@record
class Need:
    """`core` (about the origin; a point or a convex polygon) widened by `radius` lies inside
    `area`, or clear of it, by at least `limit` mm.

    `subject` is what moves (see `power_words.SUBJECTS`) and `thing` what it comes near to, in a
    maker's words; `foam`: whether that is foam.
    """

    subject: str
    thing: str
    core: BaseGeometry
    radius: float
    area: BaseGeometry
    inside: bool
    limit: float
    foam: bool = False


@record
class Miss:
    """A need that is not met: the distance that there is (negative: so far into it)."""

    need: Need
    there: float


def turned(area: BaseGeometry, angle: float, at: Point = (0.0, 0.0)) -> BaseGeometry:
    """An area of the battery's frame on the page: turned about its origin, then moved."""
    c, s = np.cos(np.radians(angle)), np.sin(np.radians(angle))
    matrix = np.array([[c, s], [-s, c]])
    return shapely.transform(area, lambda points: points @ matrix + np.array(at))


def outline_of(wish: Wish, angle: float) -> BaseGeometry:
    """The convex outline of battery and feet about the origin; a point for a bare coin."""
    if wish.bare:
        return Spot(0.0, 0.0)
    return turned(shapely.convex_hull(shapely.union_all([wish.body, *wish.pads.values()])), angle)


def needs_of(
    wish: Wish,
    ground: Ground,
    angle: float,
    edge: float,
    opening: float,
    gap: float,
    ring: tuple[float, float] | None,
) -> tuple[Need, ...]:
    """All needs of a battery turned by `angle`.

    `edge`: tape to the base's edge, `opening`: to a window, `gap`: between plus and minus (mm).
    `ring`: outer radius of a press ring, and what must stay free round it.
    """
    if ring is not None:
        radius, clear = ring
        return tuple(_ring_needs(ground, radius, clear))
    core, radius = outline_of(wish, angle), wish.radius if wish.bare else 0.0
    wide = max(radius, wish.collar)
    name = "paper ring" if wish.collar else "battery"
    found = [
        Need("battery", say("the panel's edge"), core, radius, ground.panel, True, 0.0),
        Need("battery", say("the back sheet's edge"), core, radius, ground.base, True, edge),
    ]
    found += _clear(name, core, wide, _windows(ground), opening)
    found += _clear(name, core, wide, _lights(ground), gap if not wish.collar else 0.0)
    found += _clear("battery", core, radius, _others(ground), BETWEEN)
    if wish.closes in {"flap", "slide"}:
        found += _clear("battery", core, radius, _foams(ground), 0.0, foam=True)
    return tuple(found)


def _ring_needs(ground: Ground, radius: float, clear: float) -> list[Need]:
    core, name = Spot(0.0, 0.0), "press ring"
    return [
        Need(name, say("the panel's edge"), core, radius, ground.panel, True, clear),
        Need(name, say("the back sheet's edge"), core, radius, ground.base, True, 0.0),
        *_clear(name, core, radius, _windows(ground), clear),
        *_clear(name, core, radius, _lights(ground), BETWEEN),
        *_clear(name, core, radius, _others(ground), BETWEEN),
        *_clear(name, core, radius, _foams(ground), 0.0, foam=True),
        *_clear(name, core, radius, _folds(ground), 0.0),
    ]


Named = list[tuple[str, BaseGeometry]]


def _windows(ground: Ground) -> Named:
    return [(say("window {number}", number=o.number), o.clear) for o in ground.openings]


def _lights(ground: Ground) -> Named:
    return [(say("light {number}", number=i), p.body) for i, p in enumerate(ground.lights, 1)]


def _others(ground: Ground) -> Named:
    seen: Counter[str] = Counter()
    found = []
    for part in ground.others:
        seen[part.kind] += 1
        found.append((named(part.kind, seen[part.kind], False, INNER), part.body))
    return found


def _foams(ground: Ground) -> Named:
    return [(_foam(sheet.object), sheet.geometry) for sheet in ground.foam]


def _foam(name: str) -> str:
    return say("a piece of foam") if by_program(name) else say("the foam {name}", name=name)


def _folds(ground: Ground) -> Named:
    return [(say("a fold"), ground.folds)] if not ground.folds.is_empty else []


def _clear(
    subject: str,
    core: BaseGeometry,
    radius: float,
    things: Named,
    limit: float,
    foam: bool = False,
) -> list[Need]:
    return [
        Need(subject, name, core, radius, area, False, limit, foam)
        for name, area in things
        if not area.is_empty
    ]


def misses(needs: Sequence[Need], at: Point) -> list[Miss]:
    """The needs that a place does not meet, in their order."""
    found = []
    for need in needs:
        there = room(need, at)
        if there < need.limit - TOLERANCE:
            found.append(Miss(need, there))
    return found


def room(need: Need, at: Point) -> float:
    """The distance that there is at a place: negative where it reaches beyond or into it."""
    core = shapely.transform(need.core, lambda points: points + np.array(at))
    if not need.inside:
        far = float(core.distance(need.area))
        return far - need.radius if far > 0.0 else -_deep(core, need.area) - need.radius
    if need.area.covers(core):
        return float(core.distance(need.area.boundary)) - need.radius
    corners = shapely.points(shapely.get_coordinates(core))
    beyond = float(shapely.distance(corners, need.area).max())
    return -beyond - need.radius


def _deep(core: BaseGeometry, area: BaseGeometry) -> float:
    """How far a point lies inside an area; roughly how far two areas reach into each other."""
    if core.geom_type == "Point":  # a line has no inside
        return float(core.distance(area.boundary)) if area.area > 0.0 else 0.0
    x0, y0, x1, y1 = core.intersection(area).bounds
    return max(float(min(x1 - x0, y1 - y0)), TOLERANCE)


def places(needs: Sequence[Need]) -> BaseGeometry:
    """Every place that meets all needs (may be empty)."""
    inside = [_erosion(need) for need in needs if need.inside]
    free = inside[0]
    for area in inside[1:]:
        free = free.intersection(area)
    taken = [_dilation(need) for need in needs if not need.inside]
    return free.difference(shapely.union_all(taken)) if taken else free


def _erosion(need: Need) -> BaseGeometry:
    reach = need.radius + need.limit
    if need.core.geom_type == "Point":
        return need.area.buffer(-reach * SHORT, quad_segs=QUARTER)
    inner = need.area.buffer(-reach - COARSE, quad_segs=QUARTER).simplify(COARSE)
    return inner if inner.is_empty else inner.difference(_swept(inner.boundary, need.core))


def _dilation(need: Need) -> BaseGeometry:
    reach = need.radius + need.limit
    if need.core.geom_type == "Point":
        return need.area.buffer(reach * SHORT + 1e-6, quad_segs=QUARTER)
    wide = need.area.buffer(reach + 2.0 * COARSE, quad_segs=QUARTER).simplify(COARSE)
    return shapely.union(wide, _swept(wide.boundary, need.core))


def _swept(lines: BaseGeometry, core: BaseGeometry) -> BaseGeometry:
    """Where the middle of `core` (convex) may not be if it is to keep off some lines."""
    corners = -shapely.get_coordinates(core)[:-1]
    segments = []
    for line in shapely.get_parts(lines):
        points = shapely.get_coordinates(line)
        segments.append(np.stack([points[:-1], points[1:]], axis=1))
    ends = np.concatenate(segments)  # (n, 2, 2)
    spread = (ends[:, :, None, :] + corners[None, None, :, :]).reshape(len(ends), -1, 2)
    owner = np.repeat(np.arange(len(ends)), spread.shape[1])
    clouds = shapely.multipoints(shapely.points(spread.reshape(-1, 2)), indices=owner)
    return shapely.union_all(shapely.convex_hull(clouds))
