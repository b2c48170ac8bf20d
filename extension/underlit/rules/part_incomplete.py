"""part-incomplete: a light, battery, switch or resistor that cannot be used as drawn.

A part needs all its features (for a light: plus foot, minus foot, lens, body) inside one
group, and a type that the profile knows. Ungrouping a part loses its name: its features then
stand outside a part.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import shapely

from ..model.card import FEATURES, Part, ohms_of
from ..model.case import NAMES, Case
from ..model.drawing import Shape
from ..model.finding import Finding
from .wording import FOOT

CODE = "part-incomplete"


def check(case: Case) -> Iterator[Finding]:
    """One finding per part that is not whole."""
    for half in case.facts.incomplete:
        yield _half(half.id, half.kind, half.missing, half.at)
    for run in case.facts.strays:
        yield _stray(run)
    for part in case.card.lights:
        yield from _type(part, case.profile.lights, "light")
    for part in case.card.cells:
        yield from _type(part, case.profile.cells, "battery")
    for part in case.card.resistors:
        yield from _ohms(part)


def _half(
    name: str, kind: str, missing: tuple[str, ...], at: tuple[float, float] | None
) -> Finding:
    if kind not in FEATURES:
        message = f'"{kind}" is no part that I know.'
        known = ", ".join(FEATURES)
        return Finding(CODE, "stop", at, (name,), message, f"Use one of: {known}.")
    lost = " and ".join(FOOT.get(feature, feature) for feature in missing)
    message = f"This {NAMES[kind].lower()} has lost its {lost}."
    return Finding(CODE, "stop", at, (name,), message, "Undo, or drag in a new one.")


def _stray(run: tuple[Shape, ...]) -> Finding:
    points = [shapely.multipoints(c.points) for s in run for c in s.contours if len(c.points)]
    at = None
    if points:
        centre = shapely.box(*shapely.total_bounds(points)).centroid
        at = (centre.x, centre.y)
    words = " and ".join(FOOT.get(str(s.feature), str(s.feature)) for s in run)
    message = f"Here stands a {words} outside any part (ungrouped?)."
    ids = tuple(dict.fromkeys(shape.id for shape in run))
    return Finding(CODE, "stop", at, ids, message, "Undo the ungrouping, or drag in a new part.")


def _type(part: Part, known: Mapping[str, object], thing: str) -> Iterator[Finding]:
    if part.type in known:
        return
    message = (
        f'I know no {thing} type "{part.type}".' if part.type else f"This {thing} names no type."
    )
    remedy = f"Use one of: {', '.join(known)}; or add yours to your profile file."
    yield Finding(CODE, "stop", part.at, (part.id,), message, remedy)


def _ohms(part: Part) -> Iterator[Finding]:
    if ohms_of(part) is None:
        said = part.attributes.get("ohms", "").strip()
        message = (
            f'Resistor {part.id} says "{said}" ohms, which I cannot read, so I cannot tell how '
            "bright the lights are."
            if said
            else f"Resistor {part.id} does not say how many ohms it has, so I cannot tell how "
            "bright the lights are."
        )
        remedy = "Write its ohms as a plain number, such as 100 or 4.7, or drag in a new one."
        yield Finding(CODE, "stop", part.at, (part.id,), message, remedy)
