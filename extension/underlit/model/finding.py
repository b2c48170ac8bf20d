"""One fault (or note) of a card: coded, located, with words for the maker."""

from __future__ import annotations

from ..records import record

SEVERITIES = ("stop", "caution", "note")


@record
class Finding:
    """`at` is page mm on the fault, None where it has no place. `objects` are ids.

    `step` is that of the work which brings what is still to come (1 panel, 2 lights, 3 battery,
    4 tape); 0: a fault of what is there.
    """

    rule: str
    severity: str
    at: tuple[float, float] | None
    objects: tuple[str, ...]
    message: str
    remedy: str
    step: int = 0


def to_come(finding: Finding) -> bool:
    """Whether it says that something has still to be put in: no fault of what is there."""
    return finding.severity == "stop" and finding.rule in {"layer-missing", "power-missing"}
