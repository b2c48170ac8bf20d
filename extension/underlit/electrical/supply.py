"""The operating point of a card in the terms of its report: lights, cells, hours."""

from __future__ import annotations

from collections.abc import Collection
from functools import cache, partial

import numpy as np
from numpy.typing import NDArray

from ..model.card import Card, Part, ohms_of
from ..model.case import LIT
from ..model.circuit import Circuit
from ..model.operation import MINUTE, PRESSED, CellFlow, Change, LightFlow, Operation, Supply, Way
from ..profiles import Profile
from .life import hours, presses
from .networks import SCATTER, Loaded, load, switched_off
from .operating import Solution, operating_point
from .parts import Diodes
from .wiring import Wiring, wire

Flags = NDArray[np.bool_]
Floats = NDArray[np.float64]

#: Chips that lack voltage fail one after the other, as a battery slowly runs down, and each that
#: fails leaves more to the rest; those within so much of the worst fail together (V).
ALIKE = 0.005

#: The columns of a solution that the report names.
REPORT = slice(0, 3)


def supply_of(card: Card, circuit: Circuit, profile: Profile) -> Supply:
    """Computes operating points of a card when asked; wires it up once."""
    wiring = cache(partial(wire, circuit))

    def operate(change: Change) -> Operation:
        return _operate(wiring(), card, circuit, profile, change)

    @cache
    def ways(pad: str) -> dict[int, Way]:
        from .ways import ways_from  # late: only a faint light asks

        return ways_from(wiring(), card, circuit, profile, pad)

    def way(light: str, pad: str) -> Way | None:
        return ways(pad).get(wiring().pad_node[light, pad])

    return Supply(operate, way)


def can_compute(card: Card) -> bool:
    """Whether every resistor of a card says its ohms: without that no current can be told."""
    return all(ohms_of(part) is not None for part in card.resistors)


def _operate(
    wiring: Wiring, card: Card, circuit: Circuit, profile: Profile, change: Change
) -> Operation:
    loaded = load(wiring, card, circuit, profile, change)
    if not loaded.cells:
        return Operation({}, {}, 0.0, lambda _: {})
    network, runs = loaded.network, np.ones(loaded.network.diodes.ohm.shape, dtype=bool)
    least = np.array([profile.lights[part.type].least_volt for part in loaded.lights])[:, None]
    while True:
        solution = operating_point(network)
        short = np.where(runs, least - solution.light_volts, 0.0)
        if not (short > 0.0).any():
            break
        runs &= ~((short > 0.0) & (short > short.max(axis=0, initial=0.0) - ALIKE))
        network = switched_off(loaded.network, ~runs)
    lights = _lights(loaded, solution, runs, profile)
    glows = any(flow.amps[MINUTE] > LIT for flow in lights.values())
    return Operation(
        lights=lights,
        cells=_cells(loaded.cells, solution, profile, glows),
        residual=solution.residual,
        band=partial(_band, loaded.lights, network.diodes, solution),
    )


def _lights(
    loaded: Loaded, solution: Solution, runs: Flags, profile: Profile
) -> dict[str, LightFlow]:
    """What each light gets."""
    amps, volts = solution.light_amps, solution.light_volts
    types = [profile.lights[part.type] for part in loaded.lights]
    lit = np.where(amps[:, PRESSED] > LIT, amps[:, PRESSED], 0.0)
    glow = lit * [t.candela_at[0] / t.candela_at[1] for t in types]
    share = glow / glow.max() if glow.any() else glow
    rows = (amps[:, REPORT], volts[:, REPORT], share, runs[:, REPORT])
    return {
        part.id: LightFlow(part.id, tuple(a), tuple(v), s, tuple(r))
        for part, a, v, s, r in zip(loaded.lights, *(x.tolist() for x in rows), strict=True)
    }


def _band(
    lights: tuple[Part, ...], used: Diodes, solution: Solution, names: Collection[str]
) -> dict[str, tuple[float, float]]:
    """Least and most current of some lights after a minute, in amperes.

    A light is held against the source that it sees (Thevenin's): what stands before it limits
    how much its own scatter of forward voltage can change, all others as they are.
    """
    numbers = [i for i, part in enumerate(lights) if part.id in names]
    which = np.array(numbers, dtype=np.intp)
    source = solution.source_ohm(MINUTE, which)[:, None]
    amps, volts = (x[which][:, [MINUTE]] for x in (solution.light_amps, solution.light_volts))
    saturation, slope, ohm = (
        x[which][:, [MINUTE]] for x in (used.saturation, used.slope, used.ohm)
    )
    behind = Diodes(saturation, slope, ohm + source)
    found = behind.state(volts + source * amps + np.array([-SCATTER, SCATTER]))[0].tolist()
    return {lights[i].id: (low, high) for i, (low, high) in zip(numbers, found, strict=True)}


def _cells(
    cells: tuple[Part, ...], solution: Solution, profile: Profile, glows: bool
) -> dict[str, CellFlow]:
    """What each cell gives; hours and presses where a light `glows` and this one feeds it."""
    found = {}
    for part, amps in zip(cells, solution.cell_amps.tolist(), strict=True):
        kind = profile.cells[part.type]
        pressed, minute, aged, low, high = amps
        lasts = glows and minute > LIT
        steady = [a for a in (minute, aged, low, high) if a > LIT]
        found[part.id] = CellFlow(
            id=part.id,
            amps=(pressed, minute, aged),
            hours=hours(kind, steady) if lasts else None,
            presses=presses(kind, [pressed, *steady]) if lasts else None,
        )
    return found
