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
from .wording import figure, two_digits

CODE = "cell-life-short"


def check(case: Case) -> Iterator[Finding]:
    """One finding per battery."""
    short = _short(case, case.operation)
    if not short:
        return
    remedy = cell_cure(case, lambda trial: not _short(case, trial), _effect)
    for flow in short:
        cell = next(cell for cell in case.card.cells if cell.id == flow.id)
        low, high = (two_digits(presses) for presses in flow.presses)
        message = (
            f"{case.call(cell)} lasts about {span(*flow.hours)} hours (an estimate), less than "
            f"{figure(case.profile.limits.least_hours)}; or {low} to {high} presses of 10 seconds."
        )
        yield Finding(CODE, "caution", cell.at, (cell.id,), message, remedy)


def span(low: float, high: float) -> str:
    """A band of hours: "1.2 to 4.5"."""
    return f"{two_digits(low)} to {two_digits(high)}"


def _short(case: Case, operation: Operation | None) -> list[CellFlow]:
    if operation is None:
        return []
    least = case.profile.limits.least_hours
    return [flow for flow in operation.cells.values() if flow.hours[0] < least * (1.0 - 1e-9)]


def _effect(trial: Operation) -> str:
    worst = min(trial.cells.values(), key=lambda flow: flow.hours[0])
    return f"it then lasts about {span(*worst.hours)} hours"
