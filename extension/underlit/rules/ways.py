"""What lies before a light, as a maker counts it: tape and overlaps."""

from __future__ import annotations

from ..language import say, say_count
from ..model.card import PADS, Part
from ..model.case import Case
from ..model.operation import Way
from ..records import record


@record
class Before:
    """The ways to both feet of a light, plus first, and both together in words."""

    ways: tuple[Way, ...]
    words: str


def way_to(case: Case, light: Part) -> Before | None:
    """The ways of least resistance to a light; None where nobody can tell."""
    if case.supply is None:
        return None
    ways = [case.supply.way(light.id, pad) for pad in PADS["light"]]
    found = tuple(way for way in ways if way is not None)
    if len(found) < len(ways):
        return None
    length, overlaps = sum(way.length for way in found), sum(way.overlaps for way in found)
    words = say("{length} mm of tape", length=round(length))
    if overlaps:
        words = say_count(
            "{length} mm of tape and {number} overlap",
            "{length} mm of tape and {number} overlaps",
            overlaps,
            length=round(length),
        )
    return Before(found, words)
