"""cell-overdrawn: the battery gives more than it can for long.

A coin battery that is asked for more than about 10 mA (20 mm across; smaller ones less) sags,
warms a little and gives a small part of what is in it. Judged after a minute against
`continuous-ma` of the battery, a rule of thumb; the data sheet of its maker comes first.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.finding import Finding
from ..model.operation import MINUTE, Operation
from .cures import cell_cure, ma, ma_against
from .wording import figure

CODE = "cell-overdrawn"


def check(case: Case) -> Iterator[Finding]:
    """One finding per battery."""
    over = _over(case, case.operation)
    if not over:
        return
    remedy = cell_cure(case, lambda trial: not _over(case, trial), _effect)
    for name, amps, limit in over:
        cell = next(cell for cell in case.card.cells if cell.id == name)
        message = (
            f"{case.call(cell)} is asked for about {ma_against(amps, limit)} mA after a minute; "
            f"it can give {figure(limit)} for long."
        )
        yield Finding(CODE, "caution", cell.at, (name,), message, remedy)


def _over(case: Case, operation: Operation | None) -> list[tuple[str, float, float]]:
    """(id, current in A, limit in mA) of overdrawn batteries."""
    if operation is None:
        return []
    cells = case.profile.cells
    limits = {
        cell.id: cells[cell.type].continuous_ma for cell in case.card.cells if cell.type in cells
    }
    return [
        (name, flow.amps[MINUTE], limits[name])
        for name, flow in operation.cells.items()
        if name in limits and 1e3 * flow.amps[MINUTE] > limits[name] * (1.0 + 1e-9)
    ]


def _effect(trial: Operation) -> str:
    most = max(flow.amps[MINUTE] for flow in trial.cells.values())
    return f"the battery then gives about {ma(most)} mA"
