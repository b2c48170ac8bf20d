"""current-too-high: a light takes more than it stands.

The battery's own resistance is all that holds the current back where no resistor lies before
a light; a red light on a strong battery takes many times what a white one does. Judged after
a minute against `largest-ma` of the light. The figures are estimates: a fresh battery gives more
at the moment of pressing, and the maker of the light knows best what it stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..language import figure, say
from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding
from ..model.operation import MINUTE
from .amps import ma_against
from .curing.faults import too_high
from .curing.remedies import lights_then, remedy

CODE = "current-too-high"


def check(case: Case) -> Iterator[Finding]:
    """One finding per light."""
    flows = {light.id: flow for light, flow in case.fed}
    for fault in too_high(case):
        light, flow = fault.part, flows[fault.name]
        limit = case.profile.lights[light.type].largest_ma
        message = say(
            "{light} takes more than it stands: about {amps} mA after a minute, the limit is "
            "{limit}.",
            light=case.call(light),
            amps=ma_against(flow.amps[MINUTE], limit),
            limit=figure(limit),
        )
        cure = remedy(case, CODE, fault.name, _effect)
        yield Finding(CODE, "stop", light.at, (light.id,), message, cure)


def _effect(case: Case, parts: Sequence[Part]) -> str:
    return lights_then(case, parts, MINUTE, "take")
