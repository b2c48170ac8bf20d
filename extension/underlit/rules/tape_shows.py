"""tape-shows: tape in a window.

A window without a light may show at most `foreign-opening-tape` mm2 of tape and patches; a
window with a light at most `own-opening-tape` of its clear area, the light's own body not
counted. Glued pieces and a cover hide. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from ..model.card import Opening
from ..model.case import Case
from ..model.finding import Finding
from ..units import TOLERANCE
from .wording import figure

CODE = "tape-shows"


def check(case: Case) -> Iterator[Finding]:
    """One finding per opening."""
    card = case.card
    if case.apart or card.side == "back" or not card.openings:
        return
    tape = case.tape
    shapely.prepare(tape)
    shown = shapely.intersection([o.clear for o in card.openings], tape)
    lenses = shapely.STRtree([light.features["lens"] for light in card.lights])
    cover = shapely.union_all([sheet.geometry for sheet in card.covers])
    bodies = shapely.union_all([part.body for part in case.bodies])
    for opening, area in zip(card.openings, shown, strict=True):
        if area.is_empty:
            continue
        seen = area.difference(cover)
        own = len(lenses.query(opening.outline, predicate="intersects")) > 0
        yield from (
            _own(case, opening, seen.difference(bodies)) if own else _foreign(case, opening, seen)
        )


def _foreign(case: Case, opening: Opening, seen: shapely.Geometry) -> Iterator[Finding]:
    limit = case.profile.limits.foreign_opening_tape
    if opening.through or seen.area <= limit + TOLERANCE:
        return
    yield _finding(
        opening,
        seen,
        f"Tape shows in window {opening.number} ({figure(seen.area)} mm², "
        f"up to {figure(limit)} passes).",
        "Shift the tape, or lay a cover sheet behind that window.",
    )


def _own(case: Case, opening: Opening, seen: shapely.Geometry) -> Iterator[Finding]:
    limit = case.profile.limits.own_opening_tape
    share = seen.area / opening.clear.area if opening.clear.area > 0.0 else 0.0
    if share <= limit + 1e-4:
        return
    yield _finding(
        opening,
        seen,
        f"Tape fills {share * 100:.0f} % of window {opening.number} "
        f"(up to {limit * 100:.0f} % lets enough light through).",
        "Lead the tape round the window, or use a narrower strip there.",
    )


def _finding(opening: Opening, seen: shapely.Geometry, message: str, remedy: str) -> Finding:
    largest = max(shapely.get_parts(seen), key=lambda p: p.area)
    at = largest.centroid if largest.contains(largest.centroid) else largest.point_on_surface()
    return Finding(CODE, "caution", (at.x, at.y), (opening.name,), message, remedy)
