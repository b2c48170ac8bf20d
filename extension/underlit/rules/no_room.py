"""no-room: laying the tape, a foot that cannot be reached; or a battery that does not fit.

Told by laying the tape and by placing the battery, not by validating: which light, which foot,
where the neck is, how wide it would have to be and how wide it is, and what would help. The
drawing stays as it was.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..model.case import Case
from ..model.finding import Finding
from .wording import FOOT, against, mm

CODE = "no-room"


def finding(
    case: Case,
    light: str,
    pad: str,
    at: tuple[float, float],
    between: tuple[str, str],
    needed: float,
    available: float,
    cures: Sequence[str],
) -> Finding:
    """The finding of one foot; `between` are the two things that leave too little room (mm)."""
    part = next(part for part in case.card.parts if part.id == light)
    message = (
        f"No way for the tape to the {FOOT[pad]} of {case.inner(part)}: between {between[0]} and "
        f"{between[1]} it needs {mm(needed)} and has {against(available, needed)}."
    )
    remedy = " Or: ".join(cures) if cures else "Make room there, or move the light."
    return Finding(CODE, "stop", at, (light,), message, remedy)


def reason(message: str, remedy: str) -> Finding:
    """The finding of a card on which nothing can be laid at all."""
    return Finding(CODE, "stop", None, (), message, remedy)
