"""A last look at a finished layout, on the strips' true areas: only sound ones are handed back."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ..units import TOLERANCE
from .board import Board
from .layout import Layout
from .nets import Key
from .outline import strip_area
from .pins import pins_of

#: Distances may fall short by this (mm): rounding of points.
SLACK = 0.9 * TOLERANCE


def is_sound(board: Board, layout: Layout, nets: Sequence[int]) -> bool:
    """Whether strips keep their distances, cover their pads and hang together.

    `nets` is the net of each strip.
    """
    areas = [strip_area(s) for s in layout.strips]
    by_net = [
        [a for a, n in zip(areas, nets, strict=True) if n == k] for k in range(len(board.nets))
    ]
    pins = [[pin.bare for pin in pins_of(board, n)] for n in range(len(board.nets))]
    with_pins = [group + more for group, more in zip(by_net, pins, strict=True)]
    laid, kept = ([shapely.union_all(group) for group in some] for some in (by_net, pins))
    return (
        _apart(board, laid, kept)
        and _inside(board, areas)
        and _off_obstacles(board, layout, areas)
        and all(_covered(board, key, with_pins[n]) for key, n in board.net_of.items())
        and all(_joined(board, n, group) for n, group in enumerate(by_net))
    )


def _apart(board: Board, laid: Sequence[BaseGeometry], kept: Sequence[BaseGeometry]) -> bool:
    """Whether what is laid keeps off all other nets; how near her own strips lie is hers."""
    gap = board.task.limits.gap - SLACK
    paper = _paper(board)
    for n, area in enumerate(laid):
        others = [*laid[:n], *(k for m, k in enumerate(kept) if m != n)]
        for other in others:
            pairs = [(area, other)]
            if paper is not None:
                pairs = [(area.difference(paper), other), (area, other.difference(paper))]
            if any(not tapes_apart(board, a, b, gap) for a, b in pairs):
                return False
    return all(_off_pads(board, n, area.union(kept[n]), area, gap) for n, area in enumerate(laid))


def _off_pads(board: Board, net: int, whole: BaseGeometry, laid: BaseGeometry, gap: float) -> bool:
    """Whether tape keeps off pads of other nets: her own strips off those that may turn."""
    for key, other in board.net_of.items():
        if other == net:
            continue
        light = board.task.lights[key[1]] if key[0] == "light" else None
        own = gap if light is None else min(light.gap, gap)
        area = laid if light is None or light.turn == "locked" else whole
        if _nearer(area, Polygon(board.corners(key)), own - SLACK):
            return False
    return True


def _paper(board: Board) -> BaseGeometry | None:
    """Paper between plus and minus: over crossings, and drawn before."""
    areas = [c.patch for c in board.crossings]
    areas += [pin.paper for pin in board.task.pinned if pin.paper is not None]
    return shapely.union_all(areas) if areas else None


def tapes_apart(board: Board, a: BaseGeometry, b: BaseGeometry, gap: float) -> bool:
    """Whether tape of two nets keeps its gap, inside a light's surroundings the light's own."""
    if a.distance(b) >= gap:
        return True
    zones = [(board.zone(i), light.gap - SLACK) for i, light in enumerate(board.task.lights)]
    zones = [(z, own) for z, own in zones if z.distance(a) < gap and z.distance(b) < gap]
    rest = a
    for zone, own in zones:
        inside, other = rest.intersection(zone), b.intersection(zone)
        rest = rest.difference(zone)
        if _nearer(inside, other, min(own, gap)) or _nearer(inside, b.difference(zone), gap):
            return False
    return not _nearer(rest, b, gap)


def _nearer(a: BaseGeometry, b: BaseGeometry, gap: float) -> bool:
    return not a.is_empty and not b.is_empty and bool(a.distance(b) < gap)


def _inside(board: Board, areas: Sequence[BaseGeometry]) -> bool:
    inner = board.task.base.buffer(-(board.task.limits.edge - SLACK))
    return bool(shapely.covers(inner, areas).all())


def _off_obstacles(board: Board, layout: Layout, areas: Sequence[BaseGeometry]) -> bool:
    """Whether strips keep off windows, and what else is in the way of their side."""
    for obstacle in board.task.obstacles:
        for strip, area in zip(layout.strips, areas, strict=True):
            if obstacle.polarity in {None, strip.polarity} and _nearer(
                area, obstacle.area, obstacle.clearance - SLACK
            ):
                return False
    return True


def _covered(board: Board, key: Key, areas: Sequence[BaseGeometry]) -> bool:
    limits = board.task.limits
    pad = Polygon(board.corners(key))
    on = shapely.union_all([a for a in areas if a.intersects(pad)]).intersection(pad).area
    needed = min(limits.pad_cover * pad.area, limits.joint_cover * limits.width**2)
    return bool(on >= needed - SLACK)


def _joined(board: Board, net: int, areas: Sequence[BaseGeometry]) -> bool:
    """Whether every strip after the first overlaps one before it, or a pinned one, well enough."""
    limits = board.task.limits
    needed = limits.joint_cover * limits.width**2 - SLACK
    pins = [
        (pin.bare, limits.joint_cover * min(limits.width, pin.width) ** 2 - SLACK)
        for pin in pins_of(board, net)
    ]
    for i, area in enumerate(areas[1:], 1):
        before = [*((other, needed) for other in areas[:i]), *pins]
        if not any(area.intersection(other).area >= least for other, least in before):
            return False
    return True
