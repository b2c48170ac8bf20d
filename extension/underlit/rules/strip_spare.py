"""strip-spare: a strip over 10 mm that no foot needs.

A dead end of the circuit. It does no harm, but costs tape and room. Overlaps that do not conduct
count as ways on: what lies behind them is needed once they do.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import mm, say
from ..model.case import Case
from ..model.finding import Finding

CODE = "strip-spare"

#: Shorter ends are normal (mm).
SHORT = 10.0


def check(case: Case) -> Iterator[Finding]:
    """One finding per strip."""
    if not case.powered:
        return
    for i in _dead_ends(case):
        strip = case.circuit.conductors[i].strip
        assert strip is not None
        fed = case.circuit.nets[case.circuit.net_of[i]].fed
        if fed and strip.length > SHORT:
            yield Finding(
                CODE,
                "note",
                strip.middle,
                (strip.name,),
                say("No light needs this strip ({length}).", length=mm(strip.length)),
                say("Leave it out, or lead it to a light."),
            )


def _dead_ends(case: Case) -> list[int]:
    """Strips left over when ends without a foot are taken off again and again."""
    conductors = case.circuit.conductors
    near: dict[int, set[int]] = {i: set() for i, c in enumerate(conductors)}
    opened = {i for short in case.circuit.shorts for i in short.contacts}
    for i, contact in enumerate(case.circuit.contacts):
        if i in opened:
            continue
        near[contact.upper].add(contact.lower)
        near[contact.lower].add(contact.upper)
    todo = [i for i, c in enumerate(conductors) if c.strip is not None and len(near[i]) < 2]
    dead: set[int] = set()
    while todo:
        i = todo.pop()
        if i in dead or len(near[i]) > 1 or conductors[i].strip is None:
            continue
        dead.add(i)
        for other in near[i]:
            near[other].discard(i)
            todo.append(other)
        near[i] = set()
    return sorted(dead)
