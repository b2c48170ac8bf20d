"""tape-shows: tape in a window.

A window without a light may show at most `foreign-opening-tape` mm2 of tape and patches; a
window with a light at most `own-opening-tape` of its clear area, the light's own body not
counted. Glued pieces and a cover hide. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from ..language import figure, say
from ..model.card import Card, Opening
from ..model.case import Case
from ..model.finding import Finding
from ..units import TOLERANCE
from .wording import against

CODE = "tape-shows"


def check(case: Case) -> Iterator[Finding]:
    """One finding per opening."""
    card = case.card
    if case.apart or card.side == "back" or not card.openings:
        return
    tape = [strip.geometry for strip in card.strips]
    tape += [patch.geometry for patch in card.patches]
    covers = [sheet.geometry for sheet in card.covers]
    bodies = shapely.STRtree([part.body for part in case.bodies])
    lenses = shapely.STRtree([light.features["lens"] for light in card.lights])
    for number, pieces in _over(card, tape).items():
        opening = card.openings[number]
        seen = shapely.union_all(pieces).intersection(opening.clear)
        seen = seen.difference(shapely.union_all(covers)) if covers else seen
        if len(lenses.query(opening.outline, predicate="intersects")):
            near = bodies.geometries.take(bodies.query(seen, predicate="intersects"))
            yield from _own(case, opening, seen.difference(shapely.union_all(near)))
        else:
            yield from _foreign(case, opening, seen)


def _over(card: Card, tape: list[BaseGeometry]) -> dict[int, list[BaseGeometry]]:
    """Number of each opening that tape reaches -> the pieces that do."""
    tree = shapely.STRtree(tape)
    hits = tree.query([o.clear for o in card.openings], predicate="intersects")
    found: dict[int, list[BaseGeometry]] = {}
    for opening, piece in sorted(hits.T.tolist()):
        found.setdefault(opening, []).append(tape[piece])
    return found


def _foreign(case: Case, opening: Opening, seen: shapely.Geometry) -> Iterator[Finding]:
    limit = case.profile.limits.foreign_opening_tape
    if opening.through or seen.area <= limit + TOLERANCE:
        return
    yield _finding(
        opening,
        seen,
        say(
            "Tape shows in window {number} ({area} mm², up to {most} passes).",
            number=opening.number,
            area=against(seen.area, limit),
            most=figure(limit),
        ),
        say("Shift the tape, or lay a cover sheet behind that window."),
    )


def _own(case: Case, opening: Opening, seen: shapely.Geometry) -> Iterator[Finding]:
    limit = case.profile.limits.own_opening_tape
    share = seen.area / opening.clear.area if opening.clear.area > 0.0 else 0.0
    if share <= limit + 1e-4:
        return
    has, most = _percent(share, limit)
    yield _finding(
        opening,
        seen,
        say(
            "Tape fills {share} % of window {number} (up to {most} % lets enough light through).",
            share=has,
            number=opening.number,
            most=most,
        ),
        say("Lead the tape round the window, or use a narrower strip there."),
    )


def _percent(share: float, limit: float) -> tuple[str, str]:
    """Both in whole per cent; with decimals only where these would be alike."""
    if round(share * 100) == round(limit * 100):
        return against(share * 100, limit * 100), figure(limit * 100)
    return str(round(share * 100)), str(round(limit * 100))


def _finding(opening: Opening, seen: shapely.Geometry, message: str, remedy: str) -> Finding:
    largest = max(shapely.get_parts(seen), key=lambda p: p.area)
    at = largest.centroid if largest.contains(largest.centroid) else largest.point_on_surface()
    return Finding(CODE, "caution", (at.x, at.y), (opening.name,), message, remedy)
