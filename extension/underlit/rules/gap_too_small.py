"""gap-too-small: plus and minus tape too near each other.

`smallest-gap` is what a hand can hold (root-sum-square of placing, edges and paper: 1.5 mm and
a margin); under half of it the strips will probably touch: a stop. Inside a light's body + 2 mm
tape and feet are held against the light's own `gap-at-light`. One finding per stretch, marked at
its closest place. Patches between the two count.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from ..connectivity.contacts import PatchStack
from ..connectivity.gaps import between, closest_place, facing
from ..connectivity.groups import connected, members
from ..model.case import Case
from ..model.finding import Finding
from ..records import record
from ..units import TOLERANCE
from .wording import figure, mm

CODE = "gap-too-small"

#: How far around a part's body its own gap holds (mm).
AROUND = 2.0


@record
class Near:
    """Two conductors too near each other: gap and limit in mm, the zone between them."""

    pair: tuple[int, int]
    gap: float
    limit: float
    zone: BaseGeometry
    at: tuple[float, float]


def check(case: Case) -> Iterator[Finding]:
    """One finding per stretch."""
    near = list(_all_near(case))
    near = [n for n in near if not _at_short(case, n)]
    pairs: list[tuple[int, int]] = []
    if len(near) > 1:
        tree = shapely.STRtree([n.zone for n in near])
        hits = tree.query([n.zone for n in near], predicate="intersects").T.tolist()
        pairs = [(a, b) for a, b in hits if a < b]
    for group in members(connected(len(near), pairs)).values():
        yield _finding(case, [near[i] for i in group])


def _finding(case: Case, group: Sequence[Near]) -> Finding:
    worst = min(group, key=lambda n: (n.gap / n.limit, n.pair))
    stop = any(n.gap < n.limit / 2.0 - TOLERANCE for n in group)
    names = dict.fromkeys(case.circuit.conductors[i].name for n in group for i in sorted(n.pair))
    if worst.gap <= TOLERANCE:
        message = "Plus and minus tape lie on each other here; the glue alone is no insulation."
        remedy = "Move one strip, or lay a piece of paper tape between."
    else:
        message = (
            f"Plus and minus are only {mm(worst.gap)} apart here; "
            f"a hand needs {figure(worst.limit)}."
        )
        by = mm(worst.limit - worst.gap + 0.05)
        remedy = f"Move one by {by}; lay this strip first, along a ruler."
    return Finding(CODE, "stop" if stop else "caution", worst.at, tuple(names), message, remedy)


def _at_short(case: Case, near: Near) -> bool:
    """Next to a place where the two touch anyway, the touch is the fault."""
    return any(shapely.dwithin(short.place, near.zone, near.limit) for short in case.circuit.shorts)


def _all_near(case: Case) -> Iterator[Near]:
    limit = case.profile.limits.smallest_gap
    reach = max([limit, *(kind.gap_at_light for kind in case.profile.lights.values())])
    conductors = case.circuit.conductors
    plus = [i for i, sign in enumerate(case.signs) if sign == "positive"]
    minus = [i for i, sign in enumerate(case.signs) if sign == "negative"]
    if not plus or not minus:
        return
    tree = shapely.STRtree([conductors[i].geometry for i in minus])
    hits = tree.query(
        [conductors[i].geometry for i in plus], predicate="dwithin", distance=reach - TOLERANCE
    )
    stack = PatchStack(case.card.patches)
    zones = _zones(case)
    for a, b in sorted(zip(hits[0].tolist(), hits[1].tolist(), strict=True)):
        yield from _near(case, (plus[a], minus[b]), stack, zones)


@record
class Zones:
    """Surroundings of parts with the gap that holds there."""

    tree: shapely.STRtree
    areas: tuple[BaseGeometry, ...]
    gaps: tuple[float, ...]


def _zones(case: Case) -> Zones:
    kinds = case.profile.lights
    default = min((kind.gap_at_light for kind in kinds.values()), default=1.0)
    areas = [part.body.buffer(AROUND) for part in case.bodies]
    gaps = [
        kinds[part.type].gap_at_light
        if part.kind == "light" and part.type in kinds
        else min(default, case.profile.limits.smallest_gap)
        for part in case.bodies
    ]
    return Zones(shapely.STRtree(areas), tuple(areas), tuple(gaps))


def _near(case: Case, pair: tuple[int, int], stack: PatchStack, zones: Zones) -> Iterator[Near]:
    """The places where one pair is too near, split by where which gap holds."""
    first, second = (case.circuit.conductors[i] for i in pair)
    limit = case.profile.limits.smallest_gap
    if first.part is not None and first.part is second.part:
        own = zones.gaps[case.bodies.index(first.part)]
        yield from _measure(pair, first.geometry, second.geometry, own)
        return
    for a, b in facing(first, second, stack):
        zone, own = _zone_of(zones, a, b, limit)
        if zone is None:
            yield from _measure(pair, a, b, limit)
            continue
        a_in, b_in = shapely.intersection([a, b], zone)
        yield from _measure(pair, a_in, b_in, own)
        yield from _measure(pair, shapely.difference(a, zone), b, limit)
        yield from _measure(pair, a_in, shapely.difference(b, zone), limit)


def _zone_of(
    zones: Zones, a: BaseGeometry, b: BaseGeometry, limit: float
) -> tuple[BaseGeometry | None, float]:
    """Surroundings of the parts that reach the narrow place of two geometries."""
    if a.is_empty or b.is_empty or not zones.areas:
        return None, limit
    narrow = between(a, b, limit)
    hits = sorted(zones.tree.query(narrow, predicate="intersects"))
    if not hits:
        return None, limit
    area = shapely.union_all([zones.areas[i] for i in hits])
    return area, min(zones.gaps[i] for i in hits)


def _measure(
    pair: tuple[int, int], a: BaseGeometry, b: BaseGeometry, limit: float
) -> Iterator[Near]:
    if a.is_empty or b.is_empty:
        return
    gap = float(shapely.distance(a, b))
    if gap >= limit - TOLERANCE:
        return
    yield Near(pair, gap, limit, between(a, b, limit), closest_place(a, b, gap))
