"""no-room: laying the tape, a foot that cannot be reached; or a battery that does not fit.

Told by laying the tape and by placing the battery, not by validating: which light, which foot,
where the neck is, how wide it would have to be and how wide it is, and what would help. The
drawing stays as it was.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from ..model.case import Case
from ..model.finding import Finding
from .wording import SIDE, against, count, mm

Point = tuple[float, float]

CODE = "no-room"


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
    """The finding of one foot (`pad` is positive | negative); `between` are the two things, as
    they are told, that leave too little room (mm), None where no neck was found."""
    part = next(part for part in case.card.parts if part.id == light)
    message = f"No way for the tape to the {SIDE[pad]} foot of {case.inner(part)}"
    if between is None:
        message += "."
    else:
        message += (
            f": between {between[0]} and {between[1]} it needs {mm(needed)} and has "
            f"{against(available, needed)}."
        )
    remedy = " Or: ".join(cures) if cures else "Make room there, or move the light."
    return Finding(CODE, "stop", at, (light,), message, remedy)


def wider(between: tuple[str, str], by: float) -> str:
    """The cure of a passage that can be made wider (mm)."""
    return f"Make the passage between {between[0]} and {between[1]} {mm(_up(by))} wider."


def turned(light: str, by: float) -> str:
    """The cure of a light that may not turn by itself (degrees, clockwise on screen)."""
    way = "to the right" if by > 0.0 else "to the left"
    return f"Turn {light} by {abs(by):.0f} degrees {way}, or let it turn by itself."


def shifted(light: str, way: tuple[float, float]) -> str:
    """The cure of a light that is in the wrong place (mm on the page)."""
    return f"Move {light} {' and '.join(_steps(way))}."


def _steps(way: tuple[float, float]) -> list[str]:
    found = []
    for by, more, less in ((way[0], "right", "left"), (way[1], "down", "up")):
        if abs(by) > 0.05:
            found.append(f"{mm(_up(abs(by)))} {more if by > 0.0 else less}")
    return found


def _up(by: float) -> float:
    """Rounded up to a tenth, so that what is told suffices."""
    return ceil(by * 10.0 - 1e-6) / 10.0


def narrower(width: float) -> str:
    """The cure of tape that is too wide (mm)."""
    return f"Take tape of {mm(width)}."


def over_paper(times: int) -> str:
    """The cure of a crossing."""
    where = count(times, "place", "places")
    return f"Allow plus and minus to cross over a piece of paper (in {where})."


def reason(
    message: str, remedy: str, at: Point | None = None, objects: tuple[str, ...] = ()
) -> Finding:
    """The finding of a card on which nothing can be laid for a reason of its own."""
    return Finding(CODE, "stop", at, objects, message, remedy)
