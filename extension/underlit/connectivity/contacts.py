"""Contacts between conductors, found through a spatial index; patches lie in between.

Which patches lie between an upper and a lower conductor is decided by the laying order
(drawing conventions, section 5):

    strip on strip          those laid after the lower and before the upper one
    pad, strips below it    those laid after the strip
    pad, strips above it    those laid before the strip
    pad of the upper face of a bare cell, or of a light with contact "both": either side
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from ..model.card import PADS, Card, Part, Patch, Strip
from ..model.circuit import Conductor, Contact
from ..units import TOLERANCE

#: Overlaps thinner than this in area are drawing noise on a touch (mm2).
NOISE = 1e-6


def conductors_of(card: Card) -> tuple[Conductor, ...]:
    """Strips in laying order, then pads of lights, cells, switches, resistors."""
    found = [Conductor(strip.geometry, strip, None, None) for strip in card.strips]
    for part in (*card.lights, *card.cells, *card.switches, *card.resistors):
        found += [Conductor(part.features[pad], None, part, pad) for pad in PADS[part.kind]]
    return tuple(found)


def is_bare(cell: Part, apart: str | None = None) -> bool:
    """Whether a cell's pads lie within its own disc (but `apart`, drawn on an open flap)."""
    disc = cell.body.buffer(TOLERANCE)
    pads = [pad for pad in PADS["cell"] if pad != apart]
    return all(disc.covers(cell.features[pad]) for pad in pads)


def pad_sides(part: Part, pad: str) -> tuple[str, ...]:
    """From which sides strips meet a pad: "below", "above" or both."""
    if part.kind == "light":
        sides = {"above": ("above",), "both": ("below", "above")}
        return sides.get(part.attributes.get("contact", "below"), ("below",))
    if part.kind == "cell" and part.body.intersects(part.features[pad]):
        face_up = "negative-pad" if part.attributes.get("up") == "minus" else "positive-pad"
        if pad == face_up and is_bare(part):
            return ("below", "above")
    return ("below",)


class PatchStack:
    """The patches of a card, asked for by place and by position in the laying order."""

    def __init__(self, patches: Sequence[Patch]) -> None:
        self._patches = patches
        self._tree = shapely.STRtree([patch.geometry for patch in patches]) if patches else None

    def between(self, low: float, high: float, place: BaseGeometry) -> BaseGeometry | None:
        """Union of the patches laid after `low` and before `high` that reach `place`."""
        if self._tree is None:
            return None
        hits = sorted(self._tree.query(place, predicate="intersects"))
        found = [self._patches[i].geometry for i in hits if low < self._patches[i].order < high]
        return shapely.union_all(found) if found else None

    def reaches(self, places: NDArray[np.object_]) -> NDArray[np.bool_]:
        """Which of some places any patch reaches."""
        reached = np.zeros(len(places), dtype=bool)
        if self._tree is not None:
            reached[self._tree.query(places, predicate="intersects")[0]] = True
        return reached

    def uncovered(self, strip: Strip, side: str, place: BaseGeometry) -> BaseGeometry:
        """What of a strip is bare on one side ("below" a pad: its upper face) near `place`."""
        low, high = (strip.order, np.inf) if side == "below" else (-np.inf, strip.order)
        patch = self.between(low, high, place)
        return strip.geometry if patch is None else strip.geometry.difference(patch)


def meeting(first: BaseGeometry, second: BaseGeometry) -> list[BaseGeometry]:
    """The places where two geometries meet, each connected; top to bottom, left to right.

    Polygons where they overlap; lines or points where they only touch; a point in the middle
    where they are nearer than the tolerance; empty otherwise.
    """
    if first.is_empty or second.is_empty:
        return []
    overlap = shapely.intersection(first, second)
    if overlap.is_empty:
        return _near_touches(first, second)
    places = shapely.get_parts(overlap)
    solid = places[shapely.area(places) > NOISE]
    touches = _touches(places[shapely.area(places) <= NOISE], solid)
    return sorted([*solid, *touches], key=_reading_order)


def _reading_order(place: BaseGeometry) -> tuple[float, float]:
    centre = place.centroid
    return (round(centre.y, 3), round(centre.x, 3))


def _touches(slight: NDArray[np.object_], solid: NDArray[np.object_]) -> list[BaseGeometry]:
    """Connected lines and points of touch that do not belong to an overlap."""
    if not len(slight):
        return []
    if len(solid):
        apart = shapely.distance(slight, shapely.union_all(solid)) > TOLERANCE
        slight = slight[apart]
    if len(slight) < 2:
        return list(slight)
    zones = shapely.get_parts(shapely.union_all(shapely.buffer(slight, TOLERANCE)))
    return [_one(slight[shapely.intersects(slight, zone)]) for zone in zones]


def _near_touches(first: BaseGeometry, second: BaseGeometry) -> list[BaseGeometry]:
    """The middles of the stretches where two geometries nearly touch."""
    if not shapely.dwithin(first, second, TOLERANCE):
        return []
    line = shapely.shortest_line(first, second)
    wide = TOLERANCE / 2.0 + 1e-6
    zone = shapely.intersection(first.buffer(wide), second.buffer(wide))
    parts = shapely.get_parts(zone)
    middles = [p.centroid for p in parts if p.area > 0.0 and p.contains(p.centroid)]
    return sorted(middles, key=_reading_order) or [line.centroid]


def _one(parts: NDArray[np.object_]) -> BaseGeometry:
    lengths = shapely.length(parts)
    return parts[int(np.argmax(lengths))]


def find_contacts(
    card: Card, conductors: Sequence[Conductor], adhesive_conducts: bool
) -> tuple[Contact, ...]:
    """All contacts of a card, ordered by the numbers of their conductors."""
    if not conductors:
        return ()
    stack = PatchStack(card.patches)
    pairs = _near_pairs(conductors, len(card.strips))
    plain = _plain_overlaps(conductors, pairs, stack)
    found: list[Contact] = []
    for k, (upper, lower) in enumerate(pairs.tolist()):
        conducts = adhesive_conducts or _joined(conductors[upper], conductors[lower])
        if k in plain:
            found.append(Contact(upper, lower, *plain[k], conducts))
            continue
        for place in _pair_places(conductors[upper], conductors[lower], stack):
            centre = place.centroid
            found.append(Contact(upper, lower, place, place.area, (centre.x, centre.y), conducts))
    return tuple(found)


def _near_pairs(conductors: Sequence[Conductor], strips: int) -> NDArray[np.intp]:
    """(n, 2) pairs (upper, lower) near enough to touch: strip on strip and pad on strip."""
    geometries = np.array([c.geometry for c in conductors], dtype=object)
    tree = shapely.STRtree(geometries[:strips])
    first, second = tree.query(geometries, predicate="dwithin", distance=TOLERANCE)
    keep = first > second
    order = np.lexsort((second[keep], first[keep]))
    return np.stack([first[keep][order], second[keep][order]], axis=1)


def _plain_overlaps(
    conductors: Sequence[Conductor], pairs: NDArray[np.intp], stack: PatchStack
) -> dict[int, tuple[BaseGeometry, float, tuple[float, float]]]:
    """Place, area and centre of the ordinary pairs, all at once.

    Ordinary is an overlap in one polygon with no patch anywhere near; number of the pair ->
    what its contact needs. The others are looked at one by one.
    """
    geometries = np.array([c.geometry for c in conductors], dtype=object)
    overlap = shapely.intersection(geometries[pairs[:, 0]], geometries[pairs[:, 1]])
    area = shapely.area(overlap)
    polygon = shapely.get_type_id(overlap) == shapely.GeometryType.POLYGON
    ordinary = polygon & (area > NOISE) & ~stack.reaches(overlap)
    centre = shapely.get_coordinates(shapely.centroid(overlap[ordinary]))
    return {
        int(k): (overlap[k], float(area[k]), (float(x), float(y)))
        for k, (x, y) in zip(np.flatnonzero(ordinary), centre, strict=True)
    }


def _pair_places(upper: Conductor, lower: Conductor, stack: PatchStack) -> list[BaseGeometry]:
    strip = lower.strip
    assert strip is not None
    if upper.strip is not None:
        patch = stack.between(strip.order, upper.strip.order, lower.geometry)
        above = upper.geometry if patch is None else upper.geometry.difference(patch)
        return meeting(above, lower.geometry)
    assert upper.part is not None
    assert upper.pad is not None
    bare = [
        stack.uncovered(strip, side, upper.geometry) for side in pad_sides(upper.part, upper.pad)
    ]
    return meeting(upper.geometry, bare[0] if len(bare) == 1 else shapely.union_all(bare))


def _joined(upper: Conductor, lower: Conductor) -> bool:
    """Whether two conductors conduct whatever the adhesive: a pad, or a prepared end."""
    if upper.strip is None or lower.strip is None:
        return True
    return upper.strip.joint is not None or lower.strip.joint is not None
