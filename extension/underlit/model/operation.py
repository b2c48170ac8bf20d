"""What flows where: currents of lights and cells in the three states of the report.

States, in this order: the moment of pressing with everything fresh; after a minute; aged
(an aged cell, aged overlaps and feet). Amperes, volts, hours. All figures are estimates.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import field

from ..records import record

PRESSED, MINUTE, AGED = 0, 1, 2


@record
class LightFlow:
    """One light: currents and voltages in the three states.

    `brightness` is 0..1 of the brightest at the moment of pressing. `runs` is false where its
    chip gets less than it needs (`least-volt`), in each state; it then takes nothing.
    """

    id: str
    amps: tuple[float, float, float]
    volts: tuple[float, float, float]
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
    `band(ids)`: currents of some lights after a minute if their own forward voltage is 0.1 V
    off, as lights of one bag are, everything else unchanged: (low, high).
    """

    lights: Mapping[str, LightFlow]
    cells: Mapping[str, CellFlow]
    residual: float
    band: Callable[[Collection[str]], Mapping[str, tuple[float, float]]]


@record
class Way:
    """The way of least resistance from a cell to a light's foot: tape (mm) and overlaps."""

    length: float
    overlaps: int


@record
class Feed:
    """A new strip of so many squares and of that width (mm) from a cell's pad to the tape at a
    light's foot, instead of all that meets that pad now."""

    cell: str
    light: str
    pad: str
    squares: float
    width: float


#: A foot: part id and pad.
Foot = tuple[str, str]


@record
class Change:
    """What could be done to a card, to compute whether it helps.

    resistors: ohms put in series with lights, by id. ohms: of resistor parts, instead of their
    own (0: tape lies across, infinite: taken out). cells: another type for all; types: of lights,
    by id. tape and joints: factors on the resistance of tape and of overlaps. whole: overlaps
    (numbers of contacts) that are one piece. without: lights taken off. beside: lights moved to
    the plus foot of one light and the minus foot of another. feeds: tapes led round to the other
    end.
    `drawn` joins shorts as drawn instead of opening them; `released` opens all switches;
    `mended` counts every overlap and foot as large as the rules on them ask for, so that a
    fault which they name is not named again as a faint light; `stiff` takes all resistance
    out of tape, overlaps, feet, cells and the resistors inside lights.
    """

    resistors: Mapping[str, float] = field(default_factory=dict)
    ohms: Mapping[str, float] = field(default_factory=dict)
    cells: str | None = None
    types: Mapping[str, str] = field(default_factory=dict)
    tape: float = 1.0
    joints: float = 1.0
    whole: frozenset[int] = frozenset()
    without: frozenset[str] = frozenset()
    beside: Mapping[str, tuple[Foot, Foot]] = field(default_factory=dict)
    feeds: tuple[Feed, ...] = ()
    drawn: bool = False
    released: bool = False
    stiff: bool = False
    mended: bool = True

    def then(self, more: Change) -> Change:
        """Both changes together; resistors before one light add up, otherwise the later counts."""
        extra = {name: ohm + self.resistors.get(name, 0.0) for name, ohm in more.resistors.items()}
        return Change(
            resistors={**self.resistors, **extra},
            ohms={**self.ohms, **more.ohms},
            cells=more.cells or self.cells,
            types={**self.types, **more.types},
            tape=self.tape * more.tape,
            joints=self.joints * more.joints,
            whole=self.whole | more.whole,
            without=self.without | more.without,
            beside={**self.beside, **more.beside},
            feeds=self.feeds + more.feeds,
            drawn=self.drawn or more.drawn,
            released=self.released or more.released,
            stiff=self.stiff or more.stiff,
            mended=self.mended and more.mended,
        )


@record
class Supply:
    """Computes operating points of one card: as it is, and as it could be."""

    operate: Callable[[Change], Operation]
    way: Callable[[str, str], Way | None]
