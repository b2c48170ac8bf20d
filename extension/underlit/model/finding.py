"""One fault (or note) of a card: coded, located, with words for the maker."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from ..records import record

SEVERITIES = ("stop", "caution", "note")


@record
class Together:
    """How `count` findings that differ only in their places are told in one: by all of them."""

    count: int
    message: str
    remedy: str


@record
class Finding:
    """`at` is page mm on the fault, None where it has no place. `objects` are ids.

    `step` is that of the work which brings what is still to come (1 panel, 2 lights, 3 battery,
    4 tape); 0: a fault of what is there. `together` is shared by findings that are told in one.
    """

    rule: str
    severity: str
    at: tuple[float, float] | None
    objects: tuple[str, ...]
    message: str
    remedy: str
    step: int = 0
    together: Together | None = None


def numbers_of(findings: Sequence[Finding]) -> list[int]:
    """The number under which each is told, from 1; those that are told in one have the same.

    Where some of them are missing from the list, each is told for itself.
    """
    there = Counter(finding.together for finding in findings)
    known: dict[Together, int] = {}
    numbers: list[int] = []
    highest = 0
    for finding in findings:
        number = highest + 1
        together = finding.together
        if together is not None and there[together] == together.count:
            number = known.setdefault(together, number)
        numbers.append(number)
        highest = max(highest, number)
    return numbers


def told_once(findings: Sequence[Finding]) -> list[tuple[int, Finding]]:
    """Numbers and findings as they are told: those that differ only in their places in one."""
    numbers = numbers_of(findings)
    times = Counter(numbers)
    told: dict[int, Finding] = {}
    for number, finding in zip(numbers, findings, strict=True):
        if number not in told:
            told[number] = _for_all(finding) if times[number] > 1 else finding
    return list(told.items())


def _for_all(finding: Finding) -> Finding:
    together = finding.together
    if together is None:
        return finding
    return replace(finding, message=together.message, remedy=together.remedy)


def to_come(finding: Finding) -> bool:
    """Whether it says that something has still to be put in: no fault of what is there."""
    return finding.severity == "stop" and finding.rule in {"layer-missing", "power-missing"}
