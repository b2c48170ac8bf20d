"""Corners rounded, slivers and needless points gone; no net changed, no gap made smaller.

Outer corners are rounded by opening (shrink, then grow), which only takes away; inner ones by
closing, which adds a little. A strip whose rounding would break or weaken an overlap, or bring
it nearer to what it must keep away from, is rounded less or left as it was drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..connectivity.contacts import PatchStack, conductors_of, find_contacts
from ..connectivity.gaps import clearance
from ..model.card import Card
from ..model.case import Case
from ..model.circuit import Conductor, Contact

#: Points nearer than this to the line without them are needless (mm).
NEEDLESS = 0.004

#: Segments per quarter of a rounded corner: 0.5 mm is followed within 0.02 mm.
SEGMENTS = 3

#: Gaps wider than this are of no concern to rounding (mm).
REACH = 6.0

#: A gap or an overlap may change by this much (mm, mm2): numerical noise.
SLACK = 0.002

#: Overlaps within this share above their limit are not made smaller.
NEAR_LIMIT = 1.25

#: The ways of cutting a strip, from the roundest to the drawn one.
ROUND, OUTER_ONLY, DRAWN = 0, 1, 2


def cut_areas(case: Case, radius: float) -> list[BaseGeometry]:
    """How each strip of a card is cut: rounded by `radius` (mm) as far as nothing changes."""
    drawn = np.array([strip.geometry for strip in case.card.strips], dtype=object)
    if not len(drawn):
        return []
    opened, areas = _rounded(drawn, radius)
    level = np.full(len(drawn), ROUND)
    _less(areas, level, np.flatnonzero(_parts_differ(drawn, areas)), drawn, opened)
    for _ in range(4):
        worse = _changed(case, areas)
        worse = worse[level[worse] < DRAWN]
        if not len(worse):
            return list(areas)
        _less(areas, level, worse, drawn, opened)
    areas[worse] = drawn[worse]
    return list(drawn if len(_changed(case, areas)) else areas)


def without_needless(areas: Sequence[BaseGeometry]) -> list[BaseGeometry]:
    """Areas without the points that make no difference."""
    return list(shapely.simplify(np.array(areas, dtype=object), NEEDLESS))


def _rounded(drawn: np.ndarray, radius: float) -> tuple[np.ndarray, np.ndarray]:
    """Areas with their outer corners rounded, and with the inner ones as well, lean."""
    if radius <= 0.0:
        return drawn, shapely.simplify(drawn, NEEDLESS)
    opened = _grown(_grown(drawn, -radius), radius)
    closed = opened.copy()
    bent = shapely.area(shapely.convex_hull(drawn)) > shapely.area(drawn) * (1.0 + 1e-9)
    closed[bent] = _grown(_grown(opened[bent], radius), -radius)
    return opened, shapely.simplify(closed, NEEDLESS)


def _less(
    areas: np.ndarray, level: np.ndarray, which: np.ndarray, drawn: np.ndarray, opened: np.ndarray
) -> None:
    """Take the next less rounded way for some strips: outer corners only, then as drawn."""
    level[which] += 1
    outer = which[level[which] == OUTER_ONLY]
    areas[outer] = shapely.simplify(opened[outer], NEEDLESS)
    level[outer[_parts_differ(drawn[outer], areas[outer])]] = DRAWN
    plain = which[level[which] == DRAWN]
    areas[plain] = drawn[plain]


def _grown(areas: np.ndarray, distance: float) -> np.ndarray:
    return np.asarray(shapely.buffer(areas, distance, quad_segs=SEGMENTS))


def _parts_differ(drawn: np.ndarray, cut: np.ndarray) -> np.ndarray:
    """Strips that would fall apart, vanish, or lose or gain a hole."""
    alone = shapely.get_type_id(cut) == shapely.GeometryType.POLYGON
    holes = shapely.get_num_interior_rings(cut) == shapely.get_num_interior_rings(drawn)
    return np.asarray(~(alone & holes & ~shapely.is_empty(cut)))


def with_areas(card: Card, areas: Sequence[BaseGeometry]) -> Card:
    """The card with other outlines of its strips."""
    strips = [replace(s, geometry=a) for s, a in zip(card.strips, areas, strict=True)]
    return replace(card, strips=tuple(strips))


def _changed(case: Case, areas: np.ndarray) -> np.ndarray:
    """Numbers of strips whose new outlines change an overlap or narrow a gap."""
    card = with_areas(case.card, list(areas))
    conductors = conductors_of(card)
    contacts = find_contacts(card, conductors, case.profile.tape.adhesive_conducts)
    bad = _weakened(case, contacts) | _narrowed(case, card, conductors)
    return np.array(sorted(i for i in bad if i < len(areas)), dtype=int)


def _weakened(case: Case, contacts: Sequence[Contact]) -> set[int]:
    """Conductors of contacts that are lost, new, or near their limit and smaller."""
    before, after = _by_pair(case.circuit.contacts), _by_pair(contacts)
    bad: set[int] = set()
    for pair in before.keys() | after.keys():
        old, new = before.get(pair), after.get(pair)
        if old is None or new is None or old[0] != new[0]:
            bad.update(pair)
            continue
        less = new[1] < old[1] - SLACK
        if less and new[1] < NEAR_LIMIT * _limit(case, pair):
            bad.update(pair)
    return bad


def _by_pair(contacts: Sequence[Contact]) -> dict[tuple[int, int], tuple[int, float]]:
    """(upper, lower) -> how many contacts and how large together."""
    found: dict[tuple[int, int], tuple[int, float]] = {}
    for contact in contacts:
        number, area = found.get((contact.upper, contact.lower), (0, 0.0))
        found[contact.upper, contact.lower] = (number + 1, area + contact.area)
    return found


def _limit(case: Case, pair: tuple[int, int]) -> float:
    """The least area of a contact by the profile (mm2)."""
    limits = case.profile.limits
    widths = [c.strip.width for c in (case.circuit.conductors[i] for i in pair) if c.strip]
    least = limits.joint_cover * min(widths) ** 2
    pads = [case.circuit.conductors[i] for i in pair if case.circuit.conductors[i].strip is None]
    return min([least, *(limits.pad_cover * float(pad.geometry.area) for pad in pads)])


def _narrowed(case: Case, card: Card, conductors: Sequence[Conductor]) -> set[int]:
    """Conductors of different nets that have come nearer to each other."""
    old = case.circuit.conductors
    was = np.array([c.geometry for c in old], dtype=object)
    now = np.array([c.geometry for c in conductors], dtype=object)
    net = np.array(case.circuit.net_of, dtype=int)
    first, second = shapely.STRtree(was).query(was, predicate="dwithin", distance=REACH)
    keep = (first < second) & (first < len(card.strips)) & (net[first] != net[second])
    first, second = first[keep], second[keep]
    if card.patches:
        stack = PatchStack(card.patches)
        nearer = np.array(
            [
                clearance(conductors[i], conductors[j], stack)
                < clearance(old[i], old[j], stack) - SLACK
                for i, j in zip(first.tolist(), second.tolist(), strict=True)
            ],
            dtype=bool,
        )
    else:
        before = shapely.distance(was[first], was[second])
        nearer = shapely.distance(now[first], now[second]) < before - SLACK
    return {*first[nearer].tolist(), *second[nearer].tolist()}
