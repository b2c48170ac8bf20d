"""What flows where: currents of lights and cells in the three states of the report.

States, in this order: the moment of pressing with everything fresh; after a minute; aged
(an aged cell, aged overlaps and feet). Amperes, volts, hours. All figures are estimates.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field

from ..records import record

PRESSED, MINUTE, AGED = 0, 1, 2


@record
class LightFlow:
    """One light: currents and voltages in the three states.

    `band` is its current after a minute if its own forward voltage is 0.1 V off, as lights of
    one bag are, everything else unchanged: (low, high). `brightness` is 0..1 of the brightest
    at the moment of pressing. `runs` is false where its chip gets less than it needs
    (`least-volt`), in each state; it then takes nothing.
    """

    id: str
    amps: tuple[float, float, float]
    volts: tuple[float, float, float]
    band: tuple[float, float]
    brightness: float
    runs: tuple[bool, bool, bool]


@record
class CellFlow:
    """One cell: currents, hours of glow and number of presses of ten seconds, (low, high).

    The bands hold what nobody knows: its capacity (30 %), fresh or aged, lights that need 0.1 V
    less or more. None where no light glows, or where this cell gives nothing.
    """

    id: str
    amps: tuple[float, float, float]
    hours: tuple[float, float] | None
    presses: tuple[int, int] | None


@record
class Operation:
    """All lights and cells that could be computed (those of unknown type are left out).

    `residual` is the largest current by which Kirchhoff's sum at a node misses zero (A).
    """

    lights: Mapping[str, LightFlow]
    cells: Mapping[str, CellFlow]
    residual: float


@record
class Way:
    """The way of least resistance from a cell to a light's foot: tape (mm) and overlaps."""

    length: float
    overlaps: int


@record
class Feed:
    """Tape of so many squares from a cell's pad to the tape at a light's foot, instead of all
    that meets that pad now."""

    cell: str
    light: str
    pad: str
    squares: float


@record
class Change:
    """What could be done to a card, to compute whether it helps.

    resistors: ohms put in series with lights, by id. cells: another type for all. tape and
    joints: factors on the resistance of tape (0.5: twice as wide) and of overlaps (0: one
    piece). without: lights taken off. feed: a tape led round to the other end.
    `drawn` joins shorts as drawn instead of opening them; `released` opens all switches;
    `mended` counts every overlap and foot as large as the rules on them ask for, so that a
    fault which they name is not named again as a faint light; `stiff` takes all resistance
    out of tape, overlaps, feet and cells.
    """

    resistors: Mapping[str, float] = field(default_factory=dict)
    cells: str | None = None
    tape: float = 1.0
    joints: float = 1.0
    without: frozenset[str] = frozenset()
    feed: Feed | None = None
    drawn: bool = False
    released: bool = False
    stiff: bool = False
    mended: bool = True


@record
class Supply:
    """Computes operating points of one card: as it is, and as it could be."""

    operate: Callable[[Change], Operation]
    way: Callable[[str, str], Way | None]
