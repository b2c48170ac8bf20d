"""tape-on-fold: tape that a fold will wear.

Across a fold that moves often: foil breaks; a joint, a foot or a part within 5 mm works loose;
tape that runs along the fold, or crosses it under 45 degrees, creases. Cross it square, in one
piece of fabric tape. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from ..language import mm, say
from ..model.card import Fold
from ..model.case import Case
from ..model.circuit import Conductor
from ..model.finding import Finding
from ..units import TOLERANCE

CODE = "tape-on-fold"

#: How far joints, feet and parts keep from such a fold (mm).
KEEP = 5.0

#: A strip across a fold covers it by at most this many widths (45 degrees).
SQUARE = 2.0**0.5


def check(case: Case) -> Iterator[Finding]:
    """One finding per strip and fold."""
    folds = [fold for fold in case.card.folds if fold.moves != "once"]
    for number, conductor in enumerate(case.circuit.conductors):
        for fold in folds:
            if conductor.strip is not None and conductor.geometry.intersects(fold.line):
                yield from _judge(case, number, conductor, fold)


def _judge(case: Case, number: int, conductor: Conductor, fold: Fold) -> Iterator[Finding]:
    strip = conductor.strip
    assert strip is not None
    on_fold = conductor.geometry.intersection(fold.line)
    why = _why(case, number, strip.width, on_fold, fold)
    if why is None:
        return
    at = on_fold.centroid
    yield Finding(CODE, "caution", (at.x, at.y), (strip.name, fold.object), *why)


def _why(
    case: Case, number: int, width: float, on_fold: shapely.Geometry, fold: Fold
) -> tuple[str, str] | None:
    """What is wrong with a crossing and what to do, None where it is fine."""
    longest = max(float(part.length) for part in shapely.get_parts(on_fold))
    if longest <= TOLERANCE:
        return None
    if longest > SQUARE * width + 0.05:
        return (
            say("Tape runs along or aslant over a fold that moves often."),
            say("Cross the fold square."),
        )
    if case.profile.tape.use.startswith("foil"):
        return (
            say("Foil breaks on a fold that moves often."),
            say("Cross this fold with fabric tape."),
        )
    near = _nearest(case, number, on_fold, fold)
    if near is None:
        return None
    thing, far = near
    return (
        say("{thing} {far} from a fold that moves often works loose.", thing=thing, far=mm(far)),
        say("Keep {clear} clear of the fold on both sides.", clear=mm(KEEP)),
    )


def _nearest(
    case: Case, number: int, on_fold: shapely.Geometry, fold: Fold
) -> tuple[str, float] | None:
    """The nearest joint, foot or body of this strip within reach of the crossing."""
    found: list[tuple[float, int, str]] = []  # of equal distance, the lower number is told
    for i in case.contacts_of.get(number, ()):
        contact = case.circuit.contacts[i]
        other = contact.lower if contact.upper == number else contact.upper
        joint = case.circuit.conductors[other].strip is not None
        far = float(contact.place.distance(fold.line))
        if contact.place.distance(on_fold) < KEEP - TOLERANCE:
            found.append((far, 1, say("An overlap")) if joint else (far, 0, say("A foot")))
    found += [
        (float(part.body.distance(fold.line)), 2, case.call(part))
        for part in case.bodies
        if part.body.distance(on_fold) < KEEP - TOLERANCE
        and part.body.intersects(case.circuit.conductors[number].geometry)
    ]
    if not found:
        return None
    far, _, thing = min(found, key=lambda near: near[:2])
    return thing, far
