"""How long a coin cell lasts: its capacity at a current, hours of glow, presses. All estimates.

Soft data. The share of its capacity that a cell of 20 mm gives to 2.0 V at a steady current is
a proposed reading of scattered measurements, good to about 30 %; other sizes by the
ratio of their lasting currents. What the cell maker's data sheet says comes first.
"""

from __future__ import annotations

from math import floor, inf

import numpy as np

from ..profiles import CellType

#: Current of a 20 mm cell (mA) and the share of its capacity that it gives then (proposed).
CURRENT_MA = (0.2, 1.0, 3.0, 5.0, 10.0, 20.0)
SHARE = (1.0, 0.90, 0.70, 0.55, 0.35, 0.15)

#: Lasting current of the cell that these are for (mA).
REFERENCE_MA = 10.0

#: How far the share may be off, either way.
BAND = 0.30

#: Longer than any card is kept (hours, about ten years).
FOREVER = 87_600.0

#: A press (seconds), and the most that is worth counting.
PRESS, MANY_PRESSES = 10.0, 1_000_000


def usable_share(cell: CellType, amps: float) -> float:
    """Share of its capacity (0..1) that a cell gives at a steady current (A)."""
    load = 1e3 * amps * REFERENCE_MA / cell.continuous_ma
    if load > CURRENT_MA[-1]:
        return SHARE[-1] * CURRENT_MA[-1] / load
    share = np.interp(np.log(max(load, 1e-9)), np.log(CURRENT_MA), SHARE)
    return float(share)


def hours(cell: CellType, low: float, high: float) -> tuple[float, float]:
    """Band of hours of glow where the current lies between `low` and `high` (A)."""
    return (
        min(_hours(cell, high) * (1.0 - BAND), FOREVER),
        min(_hours(cell, low) * (1.0 + BAND), FOREVER),
    )


def presses(cell: CellType, sustained: float, pressed: float) -> tuple[int, int]:
    """Band of the number of presses of ten seconds.

    A press begins at the `pressed` current and tends to the `sustained` one (A); between
    presses the cell rests, so the band is that of both.
    """
    low, high = hours(cell, min(sustained, pressed), max(sustained, pressed))
    return _count(low), _count(high)


def _count(time: float) -> int:
    return min(floor(time * 3600.0 / PRESS), MANY_PRESSES)


def _hours(cell: CellType, amps: float) -> float:
    if amps <= 0.0:
        return inf
    return cell.capacity_mah * usable_share(cell, amps) / (1e3 * amps)
