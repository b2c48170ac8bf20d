"""What Prepare says: sizes and counts, then doubts and findings."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from ..interpretation.outlines import Outlines
from ..language import decimal, figure, joined, mm, say, say_count
from ..model.finding import Finding
from .pieces import Piece
from .telling import finding_lines

INCH = 25.4

#: Inches are told in sixteenths where the panel is that size within this (mm).
NEAR_INCH = 0.35

#: More findings than this are not told one by one in the editor.
MOST_TOLD = 4


def inches(*lengths: float) -> list[str]:
    """108 -> "4 1/4": in sixteenths where all are that, else all with two decimals."""
    sixteenths = [round(length / INCH * 16) for length in lengths]
    pairs = zip(sixteenths, lengths, strict=True)
    if any(abs(n * INCH / 16 - length) > NEAR_INCH for n, length in pairs):
        return [decimal(f"{length / INCH:.2f}") for length in lengths]
    return [_mixed(n) for n in sixteenths]


def _mixed(sixteenths: int) -> str:
    whole, rest = divmod(Fraction(sixteenths, 16), 1)
    return " ".join(str(part) for part in (whole, rest) if part) or "0"


def size_words(size: tuple[float, float]) -> str:
    """108 x 139.7 mm (4 1/4 x 5 1/2 in)."""
    width, height = (round(length + 1e-6, 1) for length in size)
    inch = " x ".join(inches(*size))
    return say(
        "{width} x {height} ({inches} in)", width=figure(width), height=mm(height), inches=inch
    )


def closing_words(
    pieces: Sequence[Piece],
    several: bool,
    outlines: Outlines,
    margin: float | None,
    findings: Sequence[Finding],
    told: Sequence[str],
) -> str:
    """The closing message; `several`: a panel has still to be chosen from the pieces.

    `margin`: how far inside the panel's edge a back sheet is drawn (mm), None where none is.
    """
    if not pieces:
        return "\n".join((f"{findings[0].message} {findings[0].remedy}", *told))
    windows = len(outlines.openings)
    if len(pieces) == 1:
        size = size_words(pieces[0].size)
        lines = [
            say_count(
                "Panel {size} with {number} window.",
                "Panel {size} with {number} windows.",
                windows,
                size=size,
            )
        ]
    else:
        lines = [
            say_count(
                "{pieces} separate pieces with {number} window in all.",
                "{pieces} separate pieces with {number} windows in all.",
                windows,
                pieces=len(pieces),
            )
        ]
    seen = _seen(outlines)
    if seen:
        lines.append(say("I also saw {things}.", things=seen))
    if margin:
        lines.append(
            say("I drew a back sheet {margin} inside the panel's edge.", margin=mm(margin))
        )
    elif margin is not None:
        lines.append(say("I drew a back sheet as large as the panel."))
    lines += told
    if outlines.openings and not several:
        lines.append(say("Click the windows you want to light."))
    elif not several:
        lines.append(say("Next: draw its windows on Die cut and run this again."))
    return "\n".join(lines)


def _seen(outlines: Outlines) -> str:
    """2 loose pieces, 1 score line and 12 specks."""
    twice = outlines.doubled + outlines.coincident
    words = (
        outlines.loose
        and say_count("{number} loose piece", "{number} loose pieces", len(outlines.loose)),
        outlines.scores
        and say_count("{number} score or pen line", "{number} score or pen lines", outlines.scores),
        twice and say_count("{number} line drawn twice", "{number} lines drawn twice", twice),
        outlines.specks and say_count("{number} speck", "{number} specks", outlines.specks),
    )
    return joined([word for word in words if word])


def summary_words(
    words: str,
    findings: Sequence[Finding],
    told: Sequence[Finding] = (),
    most: int | None = None,
) -> str:
    """The closing words, then findings that they do not tell yet, a line each.

    `told`: findings that the closing words tell. `most`: no more than so many, and only what asks
    for something to be done (the editor); None: all of them (a shell).
    """
    further = [finding for finding in findings if finding not in told]
    if most is None:
        return "\n".join((words, *finding_lines(further)))
    further = [f for f in further if f.severity != "note" or f.rule == "object-skipped"]
    shown = further if len(further) <= most else further[: most - 1]
    lines = finding_lines(shown)
    if len(shown) < len(further):
        more = len(further) - len(shown)
        rest = say("And {number} more: step 5 marks them on the drawing.", number=more)
        lines.append(f"     {rest}")
    return "\n".join((words, *lines))
