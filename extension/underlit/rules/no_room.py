"""no-room: laying the tape, a foot that cannot be reached; or a battery that does not fit.

Told by laying the tape and by placing the battery, not by validating: which light, which foot,
where the neck is, how wide it would have to be and how wide it is, and what would help. The
drawing stays as it was.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from math import ceil, copysign

from ..language import joined, mm, say, say_count
from ..model.case import Case
from ..model.finding import Finding
from .wording import FOOT, against, steps

Point = tuple[float, float]

CODE = "no-room"

#: Features of parts by the names of their pads while tape is laid.
FEET = {
    "positive": "positive-pad",
    "negative": "negative-pad",
    "first": "contact-1",
    "second": "contact-2",
}


def finding(
    case: Case,
    light: str,
    pad: str,
    at: Point,
    between: tuple[str, str] | None,
    needed: float,
    available: float,
    cures: Sequence[str],
) -> Finding:
    """The finding of one foot (`pad` is positive | negative | first | second).

    `between` are the two things, as they are told, that leave too little room (mm), None where
    no neck was found.
    """
    part = next(part for part in case.card.parts if part.id == light)
    words = {"foot": say(FOOT[FEET[pad]]), "of_part": case.of(part)}
    if between is None:
        message = say("No way for the tape to the {foot} {of_part}.", **words)
    elif available >= needed:
        message = say(
            "No way for the tape to the {foot} {of_part}: it is tight between {one} and {other}.",
            one=between[0],
            other=between[1],
            **words,
        )
    elif between[0] == between[1]:
        message = say(
            "No way for the tape to the {foot} {of_part}: beside {one} a passage needs {needed} "
            "and has {room}.",
            one=between[0],
            needed=mm(rounded_up(needed)),
            room=against(available, rounded_up(needed)),
            **words,
        )
    else:
        message = say(
            "No way for the tape to the {foot} {of_part}: between {one} and {other} it needs "
            "{needed} and has {room}.",
            one=between[0],
            other=between[1],
            needed=mm(rounded_up(needed)),
            room=against(available, rounded_up(needed)),
            **words,
        )
    if cures:
        remedy = reduce(_either, cures)
    elif part.kind == "light":
        remedy = say("Make room there, or move the light.")
    else:
        remedy = say("Make room there, or move it elsewhere.")
    return Finding(CODE, "stop", at, (light,), message, remedy)


def _either(one: str, other: str) -> str:
    return say("{one} Or: {other}", one=one, other=other)


def wider(between: tuple[str, str], by: float) -> str:
    """The cure of a passage that can be made wider (mm)."""
    if between[0] == between[1]:
        return say(
            "Make the passage beside {one} {by} wider.", one=between[0], by=mm(rounded_up(by))
        )
    return say(
        "Make the passage between {one} and {other} {by} wider.",
        one=between[0],
        other=between[1],
        by=mm(rounded_up(by)),
    )


def turned(light: str, by: float) -> str:
    """The cure of a light that may not turn by itself (degrees, clockwise on screen)."""
    degrees = f"{abs(by):.0f}"
    if by > 0.0:
        return say(
            "Turn {light} by {degrees} degrees to the right, or let it turn by itself.",
            light=light,
            degrees=degrees,
        )
    return say(
        "Turn {light} by {degrees} degrees to the left, or let it turn by itself.",
        light=light,
        degrees=degrees,
    )


def shifted(light: str, way: tuple[float, float]) -> str:
    """The cure of a light that is in the wrong place (mm on the page)."""
    return say("Move {light} {way}.", light=light, way=joined(steps(*map(_shift, way))))


def _shift(by: float) -> float:
    """A shift as it is told (mm); 0 where it is too little to tell."""
    return copysign(rounded_up(abs(by)), by) if abs(by) > 0.05 else 0.0


def rounded_up(by: float) -> float:
    """Rounded up to a tenth, so that what is told suffices."""
    return ceil(by * 10.0 - 1e-6) / 10.0


def narrower(width: float) -> str:
    """The cure of tape that is too wide (mm)."""
    return say("Take tape of {width}.", width=mm(width))


def over_paper(times: int) -> str:
    """The cure of a crossing."""
    return say_count(
        "Allow plus and minus to cross over a piece of paper (in {number} place).",
        "Allow plus and minus to cross over a piece of paper (in {number} places).",
        times,
    )


def reason(
    message: str, remedy: str, at: Point | None = None, objects: tuple[str, ...] = ()
) -> Finding:
    """The finding of a card on which nothing can be laid for a reason of its own."""
    return Finding(CODE, "stop", at, objects, message, remedy)
