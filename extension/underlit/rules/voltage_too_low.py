"""voltage-too-low: a light that cannot light on this battery, however good the tape.

A white, blue or green light needs nearly 3 volts, a red one nearly 2. Two in a row need the
sum, which one coin battery does not have; a colour-changing light needs `least-volt` for its
chip. Judged fresh, with tape, overlaps and battery without any resistance: what is dark even
then lacks voltage. A light that another one robs is `light-dim`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..language import figure, say
from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding
from ..model.operation import MINUTE
from .curing.faults import lacking, volts_needed
from .curing.lights import called, in_a_row
from .curing.remedies import lights_then, remedy

CODE = "voltage-too-low"


def check(case: Case) -> Iterator[Finding]:
    """One finding per light."""
    for light, _ in lacking(case):
        cure = remedy(case, CODE, light.id, _effect)
        yield Finding(CODE, "stop", light.at, (light.id,), _message(case, light), cure)


def _message(case: Case, light: Part) -> str:
    others = [other for other in in_a_row(case, light) if other is not light]
    if others:
        return say(
            "{light} stays dark: it lies in a row with {others}, and one battery is not enough "
            "for that.",
            light=case.call(light),
            others=called(case, others),
        )
    needs = volts_needed(case.profile.lights[light.type])
    kinds = case.profile.cells
    has = max((kinds[c.type].volt for c in case.card.cells if c.type in kinds), default=0.0)
    if needs > has:
        return say(
            "{light} stays dark: it needs about {needs} volts, and the battery has {has}.",
            light=case.call(light),
            needs=figure(needs),
            has=figure(has),
        )
    return say(
        "{light} stays dark: too little of the battery's voltage reaches it.",
        light=case.call(light),
    )


def _effect(case: Case, parts: Sequence[Part]) -> str:
    return lights_then(case, parts, MINUTE, "get")
