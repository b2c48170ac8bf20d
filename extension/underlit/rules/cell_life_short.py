"""cell-life-short: the light lasts for less than `least-hours`.

Hours of glow without a break, from the capacity of the battery at this current: soft data, so
a band, whose shorter end is held against the limit. Pressed for ten seconds at a time
it lasts much longer. Cold shortens it further.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding
from .curing.faults import short_lived
from .curing.remedies import remedy
from .wording import figure, span, two_digits

CODE = "cell-life-short"


def check(case: Case) -> Iterator[Finding]:
    """One finding per battery."""
    for fault in short_lived(case):
        assert case.operation is not None
        flow = case.operation.cells[fault.name]
        assert flow.hours is not None
        assert flow.presses is not None
        name = case.inner(fault.part)
        low, high = (two_digits(presses) for presses in flow.presses)
        least = case.profile.limits.least_hours
        message = (
            f"{name[0].upper()}{name[1:]} soon runs flat: about {span(*flow.hours, least)} of "
            f"light (an estimate, {figure(least)} is the least), or {low} to {high} presses of "
            "10 seconds."
        )
        cure = remedy(case, CODE, fault.name, _effect)
        yield Finding(CODE, "caution", fault.part.at, (fault.name,), message, cure)


def _effect(case: Case, parts: Sequence[Part]) -> str:
    assert case.operation is not None
    flows = [case.operation.cells[part.id].hours for part in parts]
    bands = [hours for hours in flows if hours is not None]
    if not bands:
        return "the other battery then gives all"
    return f"the battery then lasts about {span(*min(bands))}"
