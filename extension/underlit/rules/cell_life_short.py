"""cell-life-short: the light lasts for less than `least-hours`.

Hours of glow without a break, from the capacity of the battery at this current: soft data, so
a band, whose shorter end is held against the limit. Pressed for ten seconds at a time
it lasts much longer. Cold shortens it further.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.finding import Finding
from ..model.operation import CellFlow, Operation
from .cures import cell_cure
from .wording import figure, span, two_digits

CODE = "cell-life-short"


def check(case: Case) -> Iterator[Finding]:
    """One finding per battery."""
    short = _short(case, case.operation)
    if not short:
        return
    remedy = cell_cure(case, lambda trial: not _short(case, trial), _effect)
    for flow in short:
        cell = next(cell for cell in case.card.cells if cell.id == flow.id)
        assert flow.hours is not None
        assert flow.presses is not None
        low, high = (two_digits(presses) for presses in flow.presses)
        least = figure(case.profile.limits.least_hours)
        message = (
            f"{case.call(cell)} soon runs flat: about {span(*flow.hours)} of light (an estimate, "
            f"{least} is the least), or {low} to {high} presses of 10 seconds."
        )
        yield Finding(CODE, "caution", cell.at, (cell.id,), message, remedy)


def _short(case: Case, operation: Operation | None) -> list[CellFlow]:
    if operation is None:
        return []
    least = case.profile.limits.least_hours * (1.0 - 1e-9)
    return [f for f in operation.cells.values() if f.hours is not None and f.hours[0] < least]


def _effect(trial: Operation) -> str:
    bands = [flow.hours for flow in trial.cells.values() if flow.hours is not None]
    return f"it then lasts about {span(*min(bands))}"
