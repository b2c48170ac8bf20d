"""What a maker accepts: findings set aside as long as the object stays as it was."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..model.card import Card
from ..model.finding import Finding
from ..rules import NEVER_ACCEPTED

#: An accepted object may move or grow by this much before it is looked at again (mm).
ALLOWED = 0.05


def split_accepted(
    findings: Sequence[Finding], card: Card, remembered: Mapping[str, str]
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """(findings that stand, findings that their maker accepts)."""
    accepts = {
        name: codes
        for name, codes in card.accepts.items()
        if unchanged(card.marks.get(name, ""), remembered.get(name))
    }
    stand: list[Finding] = []
    aside: list[Finding] = []
    for finding in findings:
        named = (name.split("#")[0] for name in finding.objects)
        known = any(finding.rule in accepts.get(name, ()) for name in named)
        known = known and finding.rule not in NEVER_ACCEPTED
        (aside if known else stand).append(finding)
    return tuple(stand), tuple(aside)


def unchanged(now: str, before: str | None) -> bool:
    """Whether an object's place and size are those remembered (nothing remembered: yes)."""
    if before is None:
        return True
    try:
        pairs = zip(now.split(), before.split(), strict=True)
        return all(abs(float(a) - float(b)) <= ALLOWED for a, b in pairs)
    except ValueError:
        return False


def to_remember(card: Card, remembered: Mapping[str, str]) -> dict[str, str]:
    """Marks to keep: what was remembered stays until its object accepts nothing any more."""
    return {name: remembered.get(name, mark) for name, mark in sorted(card.marks.items())}
