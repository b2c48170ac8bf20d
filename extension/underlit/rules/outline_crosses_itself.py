"""outline-crosses-itself: an outline runs over itself so that it is not clear what is cut.

Found while reading the outlines: where the fill rule's area and the even-odd area differ by
more than 0.01 mm2 on die-cut, base, foam, cover, diffuser and the features of parts. Smaller
differences are mended silently. Tape is what it paints and is never judged.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.finding import Finding

CODE = "outline-crosses-itself"


def check(case: Case) -> Iterator[Finding]:
    """What reading the outlines found."""
    return (finding for finding in case.facts.found if finding.rule == CODE)
