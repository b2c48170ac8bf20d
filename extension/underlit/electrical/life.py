"""How long a coin cell lasts: its capacity at a current, hours of glow, presses. All estimates.

Soft data. The share of its capacity that a cell of 20 mm gives to 2.0 V at a steady current is
a proposed reading of scattered measurements, good to about 30 %; other sizes by the
ratio of their lasting currents. What the cell maker's data sheet says comes first.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

import numpy as np

from ..profiles import CellType

#: Current of a 20 mm cell (mA) and the share of its capacity that it gives then (proposed).
CURRENT_MA = (0.2, 1.0, 3.0, 5.0, 10.0, 20.0)
SHARE = (1.0, 0.90, 0.70, 0.55, 0.35, 0.15)

#: Lasting current of the cell that these are for (mA).
REFERENCE_MA = 10.0

#: How far the share may be off, either way.
BAND = 0.30

#: Shelf life of a lithium coin cell (hours): ten years (makers' statements, from memory).
SHELF_LIFE = 87_600.0

#: A press (seconds).
PRESS = 10.0


def usable_share(cell: CellType, amps: float) -> float:
    """Share of its capacity (0..1) that a cell gives at a steady current (A)."""
    load = 1e3 * amps * REFERENCE_MA / cell.continuous_ma
    if load > CURRENT_MA[-1]:
        return SHARE[-1] * CURRENT_MA[-1] / load
    share = np.interp(np.log(max(load, 1e-9)), np.log(CURRENT_MA), SHARE)
    return float(share)


def hours(cell: CellType, amps: Sequence[float]) -> tuple[float, float]:
    """Band of hours of glow where the current is one of `amps` (A, all above 0): fresh, aged, with
    lights that need less or more. Capacity is uncertain by `BAND`; no cell outlives its shelf life.
    """
    return (
        min(_hours(cell, max(amps)) * (1.0 - BAND), SHELF_LIFE),
        min(_hours(cell, min(amps)) * (1.0 + BAND), SHELF_LIFE),
    )


def presses(cell: CellType, amps: Sequence[float]) -> tuple[int, int]:
    """The same as a number of presses of ten seconds.

    A press begins at the current of the moment and tends to the one after a minute; between
    presses the cell rests: `amps` holds both.
    """
    low, high = (floor(time * 3600.0 / PRESS) for time in hours(cell, amps))
    return low, high


def _hours(cell: CellType, amps: float) -> float:
    return cell.capacity_mah * usable_share(cell, amps) / (1e3 * amps)
