"""part-incomplete: a light, battery, switch or resistor that cannot be used as drawn.

A part needs all its features (for a light: plus foot, minus foot, lens, body) inside one
group, and a type that the profile knows. Ungrouping a part loses its name: its features then
stand outside a part.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import shapely

from ..language import joined, later, say
from ..model.card import FEATURES, Part, ohms_of
from ..model.case import Case
from ..model.drawing import Shape
from ..model.finding import Finding
from .wording import FEATURE

CODE = "part-incomplete"

#: Kind of part -> what is said of one that lacks features.
LOST = {
    "light": later("This light has lost its {lost}."),
    "cell": later("This battery has lost its {lost}."),
    "switch": later("This switch has lost its {lost}."),
    "resistor": later("This resistor has lost its {lost}."),
    "pull-tab": later("This pull tab has lost its {lost}."),
}

#: Kind of part -> what is said of an unknown type, and of none.
TYPES = {
    "light": (later('I know no light type "{type}".'), later("This light names no type.")),
    "cell": (later('I know no battery type "{type}".'), later("This battery names no type.")),
}


def check(case: Case) -> Iterator[Finding]:
    """One finding per part that is not whole."""
    for half in case.facts.incomplete:
        yield _half(half.id, half.kind, half.missing, half.at)
    for run in case.facts.strays:
        yield _stray(run)
    for part in case.card.lights:
        yield from _type(part, case.profile.lights)
    for part in case.card.cells:
        yield from _type(part, case.profile.cells)
    for part in case.card.resistors:
        yield from _ohms(part)


def _half(
    name: str, kind: str, missing: tuple[str, ...], at: tuple[float, float] | None
) -> Finding:
    if kind not in FEATURES:
        return Finding(
            CODE,
            "stop",
            at,
            (name,),
            say('"{kind}" is no part that I know.', kind=kind),
            say("Use one of: {known}.", known=", ".join(FEATURES)),
        )
    message = say(LOST[kind], lost=joined([_called(feature) for feature in missing]))
    return Finding(CODE, "stop", at, (name,), message, say("Undo, or drag in a new one."))


def _called(feature: str) -> str:
    return say(FEATURE[feature]) if feature in FEATURE else feature


def _stray(run: tuple[Shape, ...]) -> Finding:
    points = [shapely.multipoints(c.points) for s in run for c in s.contours if len(c.points)]
    at = None
    if points:
        centre = shapely.box(*shapely.total_bounds(points)).centroid
        at = (centre.x, centre.y)
    message = say(
        "Here stands a {features} outside any part (ungrouped?).",
        features=joined([_called(str(shape.feature)) for shape in run]),
    )
    ids = tuple(dict.fromkeys(shape.id for shape in run))
    remedy = say("Undo the ungrouping, or drag in a new part.")
    return Finding(CODE, "stop", at, ids, message, remedy)


def _type(part: Part, known: Mapping[str, object]) -> Iterator[Finding]:
    if part.type in known:
        return
    unknown, nameless = TYPES[part.kind]
    message = say(unknown, type=part.type) if part.type else say(nameless)
    remedy = say("Use one of: {known}; or add yours to your profile file.", known=", ".join(known))
    yield Finding(CODE, "stop", part.at, (part.id,), message, remedy)


def _ohms(part: Part) -> Iterator[Finding]:
    if ohms_of(part) is None:
        said = part.attributes.get("ohms", "").strip()
        words = {"id": part.id, "said": said}
        message = (
            say(
                'Resistor {id} says "{said}" ohms, which I cannot read, so I cannot tell how '
                "bright the lights are.",
                **words,
            )
            if said
            else say(
                "Resistor {id} does not say how many ohms it has, so I cannot tell how bright the "
                "lights are.",
                **words,
            )
        )
        remedy = say("Write its ohms as a plain number, such as 100 or 4.7, or drag in a new one.")
        yield Finding(CODE, "stop", part.at, (part.id,), message, remedy)
