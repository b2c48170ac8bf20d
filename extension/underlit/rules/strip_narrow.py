"""strip-narrow: tape that may tear.

Where shrinking a strip by half of `narrowest-tape` on each side leaves nothing, or splits it.
Corners and ends do not count. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from ..language import figure, say
from ..model.card import Strip
from ..model.case import Case
from ..model.finding import Finding
from ..units import TOLERANCE
from .wording import against

CODE = "strip-narrow"


def check(case: Case) -> Iterator[Finding]:
    """One finding per strip."""
    limit = case.profile.limits.narrowest_tape
    for strip in case.card.strips:
        if strip.stroked and strip.width >= limit - TOLERANCE:
            continue
        place = _narrow_place(strip, limit)
        if place is None:
            continue
        width = _width_at(strip, place)
        yield Finding(
            CODE,
            "caution",
            (place.x, place.y),
            (strip.name,),
            say("Tape only {width} mm wide here; it may tear.", width=against(width, limit)),
            say("Widen it to {limit} mm.", limit=figure(limit)),
        )


def _narrow_place(strip: Strip, limit: float) -> BaseGeometry | None:
    """Where a strip is narrower than the limit, None where it is wide enough."""
    core = strip.geometry.buffer(-(limit - TOLERANCE) / 2.0, join_style="mitre")
    parts = [p for p in shapely.get_parts(core) if p.area > TOLERANCE**2]
    if not parts:
        middle = strip.line.interpolate(0.5, normalized=True) if strip.line else None
        return middle or strip.geometry.point_on_surface()
    if len(parts) == 1:
        return None
    parts.sort(key=lambda p: -p.area)
    rest = shapely.union_all(parts[1:])
    return shapely.shortest_line(parts[0], rest).centroid


def _width_at(strip: Strip, place: BaseGeometry) -> float:
    """Width of a strip at a place inside it: twice the way to its edge."""
    if strip.stroked:
        return strip.width
    return 2.0 * float(shapely.distance(place, shapely.boundary(strip.geometry)))
