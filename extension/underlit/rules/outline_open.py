"""outline-open: a line on Die cut that does not close.

Open lines inside the panel are taken as score or pen lines. Where the ends nearly meet (under
1 mm apart) the gap is marked, since it was probably meant to close. Lines that close only
together, as exchanged files have them, are told in one note: combine and join them.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.finding import Finding

CODE = "outline-open"


def check(case: Case) -> Iterator[Finding]:
    """What reading the outlines found."""
    return (finding for finding in case.facts.found if finding.rule == CODE)
