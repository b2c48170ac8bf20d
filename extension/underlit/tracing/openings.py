"""Places that are drawn as joined and could be open: overlaps, feet, cracked strips."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import shapely

from ..model.circuit import Conductor
from ..records import record
from .wiring import Wiring

Point = tuple[float, float]

#: Share of a foot or of the square of a strip's width that a sound contact covers.
SOUND = 1.0


@record
class Fault:
    """One thing that could be wrong: what it is, where, the objects, whom it would darken.

    `group` tells which places cannot be told apart by lights and are looked at in one go: a part
    with its feet, one side of the tape. `weakness` is 1 for an ordinary place of its kind, more
    where the drawing shows it weak.
    """

    kind: str
    at: Point
    objects: tuple[str, ...]
    dark: frozenset[str]
    group: str
    weakness: float = 1.0


def open_overlaps(wiring: Wiring) -> Iterator[Fault]:
    """Every overlap of two strips (all places of one pair together)."""
    pairs: dict[tuple[int, int], list[int]] = {}
    for k, pair in enumerate(wiring.joins):
        if all(_strip(wiring, i) for i in pair):
            pairs.setdefault(pair, []).append(k)
    conductors, contacts = wiring.circuit.conductors, wiring.circuit.contacts
    for pair, places in pairs.items():
        found = [contacts[wiring.circuit.live[k]] for k in places]
        area = sum(contact.area for contact in found)
        width = min(conductors[i].strip.width for i in pair)  # type: ignore[union-attr]
        largest = max(found, key=lambda contact: contact.area)
        yield Fault(
            "overlap",
            largest.at,
            tuple(conductors[i].name for i in sorted(pair)),
            wiring.dark_without(places),
            f"net {wiring.circuit.net_of[pair[0]]}",
            _weak(area, width * width),
        )


def open_feet(wiring: Wiring) -> Iterator[Fault]:
    """Every foot of a part on its tape."""
    conductors, contacts = wiring.circuit.conductors, wiring.circuit.contacts
    for number, foot in enumerate(conductors):
        places = [k for k, pair in enumerate(wiring.joins) if number in pair]
        if foot.part is None or not places:
            continue
        area = sum(contacts[wiring.circuit.live[k]].area for k in places)
        centre = foot.geometry.centroid
        dark = wiring.dark_without(places)
        alone = dark <= {foot.part.id}
        yield Fault(
            "battery-foot" if foot.part.kind == "cell" else "foot",
            (centre.x, centre.y),
            (foot.part.id,),
            dark,
            foot.part.id if alone else f"net {wiring.circuit.net_of[number]}",
            _weak(area, float(foot.geometry.area)),
        )


def cracked_strips(wiring: Wiring) -> Iterator[Fault]:
    """Every stretch of a strip between two of its contacts: torn there, both ends stay joined."""
    beyond = len(wiring.circuit.conductors)
    for number, conductor in enumerate(wiring.circuit.conductors):
        strip = conductor.strip
        if strip is None or strip.line is None:
            continue
        along = sorted((_along(wiring, k, conductor), k) for k in _of(wiring, number))
        for (before, _), (after, _) in pairwise(along):
            if after - before < strip.width / 2.0:
                continue
            far = {k for place, k in along if place >= after}
            joins = [
                tuple(beyond if i == number and k in far else i for i in pair)
                for k, pair in enumerate(wiring.joins)
            ]
            dark = wiring.shining - wiring.lit(joins, more=1)  # type: ignore[arg-type]
            at = _crease(strip.line, before, after)
            net = f"net {wiring.circuit.net_of[number]}"
            yield Fault("strip", at, (strip.name,), dark, net, 1.0 + 0.2 * strip.folds)


def _of(wiring: Wiring, number: int) -> list[int]:
    return [k for k, pair in enumerate(wiring.joins) if number in pair]


def _along(wiring: Wiring, k: int, conductor: Conductor) -> float:
    """How far along a strip a contact lies."""
    contact = wiring.circuit.contacts[wiring.circuit.live[k]]
    return float(conductor.strip.line.project(shapely.Point(contact.at)))  # type: ignore[union-attr]


def _crease(line: shapely.LineString, before: float, after: float) -> Point:
    """The corner between two distances along a line that is nearest to their middle, else that."""
    middle = (before + after) / 2.0
    corners: list[float] = [float(line.project(shapely.Point(p))) for p in line.coords[1:-1]]
    inside = [c for c in corners if before < c < after]
    place = line.interpolate(min(inside, key=lambda c: abs(c - middle)) if inside else middle)
    return (place.x, place.y)


def _strip(wiring: Wiring, number: int) -> bool:
    return wiring.circuit.conductors[number].strip is not None


def _weak(area: float, sound: float) -> float:
    """1 for a contact of the usual area, up to 3 for one that hardly touches."""
    return min(3.0, max(0.7, float(np.sqrt(SOUND * sound / max(area, 1e-3)))))
