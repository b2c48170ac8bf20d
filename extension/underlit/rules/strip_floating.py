"""strip-floating: a strip that leads nowhere.

Tape with no way to any battery, not even through lights, and no light's foot on it (that would
be `light-unfed`).
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import later, say
from ..model.case import Case
from ..model.finding import Finding

CODE = "strip-floating"

ONE = (
    later("This strip leads nowhere."),
    later("Remove it, or join it to the tape that it belongs to."),
)
SEVERAL = (
    later("These strips lead nowhere."),
    later("Remove them, or join them to the tape they belong to."),
)


def check(case: Case) -> Iterator[Finding]:
    """One finding per strip, or group of joined strips."""
    if not case.powered:
        return
    conductors = case.circuit.conductors
    for net in case.circuit.nets:
        group = [conductors[i] for i in net.conductors]
        if net.fed or any(c.part is not None for c in group):
            continue
        first = group[0].strip
        assert first is not None
        message, remedy = ONE if len(group) == 1 else SEVERAL
        names = tuple(c.name for c in group)
        yield Finding(CODE, "note", first.middle, names, say(message), say(remedy))
