"""cell-life-short: the light lasts for less than `least-hours`.

Hours of glow without a break, from the capacity of the battery at this current: soft data, so
a band, whose shorter end is held against the limit. Pressed for ten seconds at a time
it lasts much longer. Cold shortens it further.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..language import begun, figure, say, two_digits
from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding
from .curing.faults import short_lived
from .curing.remedies import remedy
from .wording import span

CODE = "cell-life-short"


def check(case: Case) -> Iterator[Finding]:
    """One finding per battery."""
    for fault in short_lived(case):
        assert case.operation is not None
        flow = case.operation.cells[fault.name]
        assert flow.hours is not None
        assert flow.presses is not None
        low, high = (two_digits(presses) for presses in flow.presses)
        least = case.profile.limits.least_hours
        message = say(
            "{battery} soon runs flat: about {hours} of light (an estimate, {least} is the "
            "least), or {low} to {high} presses of 10 seconds.",
            battery=begun(case.inner(fault.part)),
            hours=span(*flow.hours, least),
            least=figure(least),
            low=low,
            high=high,
        )
        cure = remedy(case, CODE, fault.name, _effect)
        yield Finding(CODE, "caution", fault.part.at, (fault.name,), message, cure)


def _effect(case: Case, parts: Sequence[Part]) -> str:
    assert case.operation is not None
    flows = [case.operation.cells[part.id].hours for part in parts]
    bands = [hours for hours in flows if hours is not None]
    if not bands:
        return say("the other battery then gives all")
    return say("the battery then lasts about {hours}", hours=span(*min(bands)))
