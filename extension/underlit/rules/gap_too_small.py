"""gap-too-small: plus and minus tape too near each other.

`smallest-gap` is what a hand can hold (root-sum-square of placing, edges and paper: 1.5 mm and
a margin); under half of it the strips will probably touch: a stop. Inside a light's body + 2 mm
tape and feet are held against the light's own `gap-at-light`. One finding per stretch, marked at
its closest place. Patches between the two count.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from ..connectivity.contacts import PatchStack
from ..connectivity.gaps import between, closest_place, facing
from ..connectivity.groups import connected, members
from ..language import figure, mm, say
from ..model.case import Case
from ..model.finding import Finding
from ..records import record
from ..units import TOLERANCE
from .wording import against

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
    pairs += _over_one_patch(case, near)
    for group in members(connected(len(near), pairs)).values():
        yield _finding(case, [near[i] for i in group])


def _over_one_patch(case: Case, near: Sequence[Near]) -> list[tuple[int, int]]:
    """Stretches round one crossing belong together: the patch in it is too small."""
    if not case.card.patches:
        return []
    by_pair: dict[tuple[int, int], list[int]] = {}
    for i, n in enumerate(near):
        by_pair.setdefault(n.pair, []).append(i)
    tied: list[tuple[int, int]] = []
    for pair, numbers in by_pair.items():
        if len(numbers) < 2:
            continue
        a, b = (case.circuit.conductors[i].geometry for i in pair)
        for crossing in shapely.get_parts(shapely.intersection(a, b)):
            here = [i for i in numbers if shapely.dwithin(near[i].zone, crossing, near[i].limit)]
            tied += [(here[0], i) for i in here[1:]]
    return tied


def _finding(case: Case, group: Sequence[Near]) -> Finding:
    worst = min(group, key=lambda n: (_rank(n.gap, n.limit), n.pair))
    stop = _is_stop(worst.gap, worst.limit)
    names = dict.fromkeys(case.circuit.conductors[i].name for n in group for i in sorted(n.pair))
    if worst.gap <= TOLERANCE:
        message = say(
            "Plus and minus tape lie on each other here; the glue alone is no insulation."
        )
        remedy = say("Move one strip, or lay a piece of paper tape between.")
    else:
        message = say(
            "Plus and minus are only {gap} mm apart here; a hand needs {needed}.",
            gap=against(worst.gap, worst.limit),
            needed=figure(worst.limit),
        )
        by = mm(worst.limit - worst.gap + 0.05)
        remedy = say("Move one by {by}; lay this strip first, along a ruler.", by=by)
    return Finding(CODE, "stop" if stop else "caution", worst.at, tuple(names), message, remedy)


def _is_stop(gap: float, limit: float) -> bool:
    return gap < limit / 2.0 - TOLERANCE


def _rank(gap: float, limit: float) -> tuple[bool, float]:
    """Stops before cautions, then the closest."""
    return (not _is_stop(gap, limit), gap)


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
    of: Mapping[str, float]


def _zones(case: Case) -> Zones:
    """Surroundings of the lights; for any other part only its own two feet have a gap of theirs."""
    kinds = case.profile.lights
    default = min((kind.gap_at_light for kind in kinds.values()), default=1.0)
    own = {
        part.id: kinds[part.type].gap_at_light
        if part.kind == "light" and part.type in kinds
        else min(default, case.profile.limits.smallest_gap)
        for part in case.bodies
    }
    areas = shapely.buffer([light.body for light in case.card.lights], AROUND).tolist()
    gaps = tuple(own[light.id] for light in case.card.lights)
    return Zones(shapely.STRtree(areas), tuple(areas), gaps, own)


def _near(case: Case, pair: tuple[int, int], stack: PatchStack, zones: Zones) -> Iterator[Near]:
    """Every stretch where one pair is too near, each on its own."""
    first, second = (case.circuit.conductors[i] for i in pair)
    if first.part is not None and first.part is second.part:
        limits = Limits(None, 0.0, zones.of[first.part.id])
        yield from _stretches(pair, first.geometry, second.geometry, limits)
        return
    for a, b in facing(first, second, stack):
        if not (a.is_empty or b.is_empty):
            yield from _stretches(pair, a, b, _limits(case, zones, a, b))


@record
class Limits:
    """Which gap holds: `own` where both sides lie within `area`, `wide` elsewhere."""

    area: BaseGeometry | None
    own: float
    wide: float


def _limits(case: Case, zones: Zones, a: BaseGeometry, b: BaseGeometry) -> Limits:
    """Surroundings of the parts that reach the narrow places of two geometries."""
    wide = case.profile.limits.smallest_gap
    if not zones.areas:
        return Limits(None, wide, wide)
    narrow = between(a, b, max(wide, *zones.gaps))
    hits = sorted(zones.tree.query(narrow, predicate="intersects"))
    if not hits:
        return Limits(None, wide, wide)
    area = shapely.union_all([zones.areas[i] for i in hits])
    return Limits(area, min(zones.gaps[i] for i in hits), wide)


def _stretches(
    pair: tuple[int, int], a: BaseGeometry, b: BaseGeometry, limits: Limits
) -> Iterator[Near]:
    reach = max(limits.own, limits.wide)
    if shapely.distance(a, b) >= reach - TOLERANCE:
        return
    parts = shapely.get_parts(between(a, b, reach))
    for zone in parts:
        here = (a, b)
        if len(parts) > 1:
            here = shapely.intersection([a, b], zone.buffer(reach / 2.0 + 2.0 * TOLERANCE))
        worst = min(_measures(*here, limits), key=lambda m: _rank(m[0], m[1]), default=None)
        if worst is not None:
            gap, limit, c, d = worst
            yield Near(pair, gap, limit, zone, closest_place(c, d, gap))


def _measures(
    a: BaseGeometry, b: BaseGeometry, limits: Limits
) -> Iterator[tuple[float, float, BaseGeometry, BaseGeometry]]:
    """(gap, limit, the two sides) of what is too near, by which limit holds."""
    cases = [(a, b, limits.wide)]
    if limits.area is not None:
        a_in, b_in = shapely.intersection([a, b], limits.area)
        # of what lies outside only true edges count, not the line where the surroundings cut it
        a_out, b_out = shapely.difference(shapely.boundary([a, b]), limits.area)
        cases = [(a_in, b_in, limits.own), (a_out, b, limits.wide), (a_in, b_out, limits.wide)]
    for c, d, limit in cases:
        if c.is_empty or d.is_empty:
            continue
        gap = float(shapely.distance(c, d))
        if gap < limit - TOLERANCE:
            yield gap, limit, c, d
