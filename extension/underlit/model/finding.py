"""One fault (or note) of a card: coded, located, with words for the maker."""

from __future__ import annotations

from ..records import record

SEVERITIES = ("stop", "caution", "note")


@record
class Finding:
    """`at` is page mm on the fault, None where it has no place. `objects` are ids."""

    rule: str
    severity: str
    at: tuple[float, float] | None
    objects: tuple[str, ...]
    message: str
    remedy: str


def to_come(finding: Finding) -> bool:
    """Whether it says that something has still to be put in: no fault of what is there."""
    return finding.severity == "stop" and finding.rule in {"layer-missing", "power-missing"}
