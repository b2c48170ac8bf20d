"""outline-doubled: an outline is drawn twice.

Two outlines that run within 0.6 mm of each other all round are one cut line (a double line is
what tracing and bought files bring). Nothing to do: one of them is used.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.finding import Finding

CODE = "outline-doubled"


def check(case: Case) -> Iterator[Finding]:
    """What reading the outlines found."""
    return (finding for finding in case.facts.found if finding.rule == CODE)
