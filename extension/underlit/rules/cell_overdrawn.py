"""cell-overdrawn: the battery gives more than it can for long.

A coin battery that is asked for more than about 10 mA (20 mm across; smaller ones less) sags,
warms a little and gives a small part of what is in it. Judged after a minute against
`continuous-ma` of the battery, a rule of thumb; the data sheet of its maker comes first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..language import figure, say
from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding
from ..model.operation import MINUTE
from .amps import ma_against, ma_span
from .curing.faults import overdrawn
from .curing.remedies import remedy

CODE = "cell-overdrawn"


def check(case: Case) -> Iterator[Finding]:
    """One finding per battery."""
    for fault in overdrawn(case):
        assert case.operation is not None
        limit = case.profile.cells[fault.part.type].continuous_ma
        amps = case.operation.cells[fault.name].amps[MINUTE]
        message = say(
            "Too much is asked of {battery}: about {amps} mA after a minute; it can give {limit} "
            "for long (what its maker says comes first).",
            battery=case.inner(fault.part),
            amps=ma_against(amps, limit),
            limit=figure(limit),
        )
        cure = remedy(case, CODE, fault.name, _effect)
        yield Finding(CODE, "caution", fault.part.at, (fault.name,), message, cure)


def _effect(case: Case, parts: Sequence[Part]) -> str:
    assert case.operation is not None
    amps = [case.operation.cells[part.id].amps[MINUTE] for part in parts]
    if len(amps) == 1:
        return say("the battery then gives about {amps}", amps=ma_span(amps))
    return say("the batteries then give about {amps}", amps=ma_span(amps))
