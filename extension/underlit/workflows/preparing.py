"""What Prepare says: sizes and counts, then doubts and findings."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from ..interpretation.outlines import Outlines
from ..model.finding import Finding
from ..rules.wording import count, figure, mm
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
        return [f"{length / INCH:.2f}" for length in lengths]
    return [_mixed(n) for n in sixteenths]


def _mixed(sixteenths: int) -> str:
    whole, rest = divmod(Fraction(sixteenths, 16), 1)
    return " ".join(str(part) for part in (whole, rest) if part) or "0"


def size_words(size: tuple[float, float]) -> str:
    """108 x 139.7 mm (4 1/4 x 5 1/2 in)."""
    width, height = (round(length + 1e-6, 1) for length in size)
    return f"{figure(width)} x {mm(height)} ({' x '.join(inches(*size))} in)"


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
    windows = count(len(outlines.openings), "window", "windows")
    if len(pieces) == 1:
        lines = [f"Panel {size_words(pieces[0].size)} with {windows}."]
    else:
        lines = [f"{len(pieces)} separate pieces with {windows} in all."]
    seen = _seen(outlines)
    if seen:
        lines.append(f"I also saw {seen}.")
    if margin is not None:
        where = f"{mm(margin)} inside the panel's edge" if margin else "as large as the panel"
        lines.append(f"I drew a back sheet {where}.")
    lines += told
    if outlines.openings and not several:
        lines.append("Click the windows you want to light.")
    elif not several:
        lines.append("Next: draw its windows on Die cut and run this again.")
    return "\n".join(lines)


def _seen(outlines: Outlines) -> str:
    """2 loose pieces, 1 score line and 12 specks."""
    counts = (
        (len(outlines.loose), "loose piece", "loose pieces"),
        (outlines.scores, "score or pen line", "score or pen lines"),
        (outlines.doubled + outlines.coincident, "line drawn twice", "lines drawn twice"),
        (outlines.specks, "speck", "specks"),
    )
    words = [count(n, one, many) for n, one, many in counts if n]
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def summary_words(words: str, findings: Sequence[Finding], most: int | None = None) -> str:
    """The closing words, then findings that they do not tell yet, a line each.

    `most`: no more than so many, and only what asks for something to be done (the editor); None:
    all of them (a shell).
    """
    further = [finding for finding in findings if finding.message not in words]
    if most is None:
        return "\n".join((words, *finding_lines(further)))
    further = [f for f in further if f.severity != "note" or f.rule == "object-skipped"]
    shown = further if len(further) <= most else further[: most - 1]
    lines = finding_lines(shown)
    if len(shown) < len(further):
        more = len(further) - len(shown)
        lines.append(f"     And {more} more: step 5 marks them on the drawing.")
    return "\n".join((words, *lines))
