"""How far two conductors are apart, patches taken into account."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import MultiPolygon
from shapely.geometry.base import BaseGeometry

from ..model.card import Card
from ..model.circuit import Circuit, Conductor
from ..units import TOLERANCE
from .contacts import PatchStack, pad_sides

#: Places this much wider than the closest one are still the closest stretch (mm).
LEVEL = 0.05


def facing(
    first: Conductor, second: Conductor, stack: PatchStack
) -> list[tuple[BaseGeometry, BaseGeometry]]:
    """The pairs of geometries whose distances count as the gap of two conductors.

    Of an upper strip U and a lower strip L: (U minus patches between, L) and (U, L minus
    patches between). Of a pad and a strip: the pad and what of the strip is bare. Of two
    pads: themselves.
    """
    if first.strip is None and second.strip is None:
        return [(first.geometry, second.geometry)]
    if first.strip is None or second.strip is None:
        pad, other = (first, second) if first.strip is None else (second, first)
        assert pad.part is not None
        assert pad.pad is not None
        assert other.strip is not None
        near = pad.geometry.buffer(20.0)
        bare = [stack.uncovered(other.strip, s, near) for s in pad_sides(pad.part, pad.pad)]
        return [(pad.geometry, shapely.union_all(bare))]
    upper, lower = sorted((first, second), key=lambda c: -c.strip.order)  # type: ignore[union-attr]
    assert upper.strip is not None
    assert lower.strip is not None
    pair = shapely.union_all([upper.geometry, lower.geometry])
    patch = stack.between(lower.strip.order, upper.strip.order, pair)
    if patch is None:
        return [(upper.geometry, lower.geometry)]
    return [
        (upper.geometry.difference(patch), lower.geometry),
        (upper.geometry, lower.geometry.difference(patch)),
    ]


def clearance(first: Conductor, second: Conductor, stack: PatchStack) -> float:
    """Gap between two conductors in mm (0 where they touch, inf where nothing faces)."""
    return min(
        (
            float(shapely.distance(a, b))
            for a, b in facing(first, second, stack)
            if not (a.is_empty or b.is_empty)
        ),
        default=np.inf,
    )


def between(a: BaseGeometry, b: BaseGeometry, gap: float) -> BaseGeometry:
    """What lies within half a gap of both: not empty where they are nearer than the gap."""
    half = gap / 2.0 + TOLERANCE
    low = np.maximum(shapely.bounds(a)[:2], shapely.bounds(b)[:2]) - gap
    high = np.minimum(shapely.bounds(a)[2:], shapely.bounds(b)[2:]) + gap
    if (low >= high).any():
        return MultiPolygon()
    window = shapely.box(*low, *high)
    near = shapely.buffer(shapely.intersection([a, b], window), half, quad_segs=4)
    return shapely.intersection(near[0], near[1])


def closest_place(a: BaseGeometry, b: BaseGeometry, gap: float) -> tuple[float, float]:
    """The middle of the closest pair; of a stretch of equal gap, the middle of the stretch."""
    middle = shapely.shortest_line(a, b).centroid
    level = between(a, b, gap + LEVEL)
    parts = [p for p in shapely.get_parts(level) if p.distance(middle) < LEVEL + TOLERANCE]
    centre = shapely.union_all(parts).centroid if parts else middle
    if not parts or not level.buffer(LEVEL).contains(centre):
        centre = middle
    return (centre.x, centre.y)


def smallest_gap(circuit: Circuit, card: Card, signs: Sequence[str | None]) -> float | None:
    """Smallest distance between plus and minus tape in mm, None where one of them is missing.

    `signs` of every conductor, as `Case.signs`. Patches between strips count.
    """
    strips = [(i, c) for i, c in enumerate(circuit.conductors) if c.strip is not None]
    plus = [c for i, c in strips if signs[i] == "positive"]
    minus = [c for i, c in strips if signs[i] == "negative"]
    if not plus or not minus:
        return None
    areas = np.array([c.geometry for c in minus], dtype=object)
    if not card.patches:
        tree = shapely.STRtree([c.geometry for c in plus])
        return float(tree.query_nearest(areas, all_matches=False, return_distance=True)[1].min())
    return _smallest_over_patches(plus, minus, PatchStack(card.patches))


def _smallest_over_patches(
    plus: Sequence[Conductor], minus: Sequence[Conductor], stack: PatchStack
) -> float | None:
    """The same where patches lie between: looks further and further from each strip."""
    areas = np.array([c.geometry for c in minus], dtype=object)
    others = np.array([c.geometry for c in plus], dtype=object)
    tree = shapely.STRtree(others)
    everything = shapely.total_bounds([*areas, *others])
    reach = 1.0
    seen: set[tuple[int, int]] = set()
    best = np.inf
    while best > reach and reach < 4.0 * float(np.ptp(everything) + 1.0):
        reach *= 2.0
        hits = tree.query(areas, predicate="dwithin", distance=reach).T
        gaps = shapely.distance(areas[hits[:, 0]], others[hits[:, 1]])
        for k in np.argsort(gaps, kind="stable").tolist():
            pair = (int(hits[k, 0]), int(hits[k, 1]))
            if gaps[k] >= best:
                break
            if pair not in seen:
                seen.add(pair)
                best = min(best, clearance(plus[pair[1]], minus[pair[0]], stack))
    return float(best) if np.isfinite(best) else None
