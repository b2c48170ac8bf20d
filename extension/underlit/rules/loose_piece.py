"""loose-piece: pieces of the panel that will fall out.

A closed outline inside an opening is a piece of its own (the middle of a letter, say). It
falls out unless it is glued back (underlit:glued) or lies on a diffuser.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.finding import Finding

CODE = "loose-piece"


def check(case: Case) -> Iterator[Finding]:
    """What reading the outlines found."""
    return (finding for finding in case.facts.found if finding.rule == CODE)
