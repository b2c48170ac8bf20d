"""What the six electrical rules find, as figures: which limit is missed, where and how far."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import log

from ...electrical.parts import thermal_volt
from ...model.card import PADS, Part
from ...model.case import LIT, Case
from ...model.operation import AGED, MINUTE, PRESSED, Change, LightFlow
from ...profiles import LightType
from ...records import record

#: The rules, in the order of reports.
CODES = (
    "current-too-high",
    "voltage-too-low",
    "cell-overdrawn",
    "uneven-lights",
    "light-dim",
    "cell-life-short",
)

#: Limits are met within this share.
WITHIN = 1e-9

#: A light that cannot light misses its limit so many times; so does a battery of no hours.
ALL = 1e9

#: Below this share of the brightest, none is worse than another.
DARK_SHARE = 0.01

#: A voltage is surely enough for a light with so much to spare (V).
SURE = 0.05

Fed = tuple[Part, LightFlow]


@record
class Fault:
    """A limit that is missed by `part`, `excess` times (above 1). `name` is its id, or the type of
    lights that are uneven (then `part` is the dimmest)."""

    code: str
    name: str
    part: Part
    excess: float


#: (code, name) -> fault
Faults = dict[tuple[str, str], Fault]


def faults_of(case: Case) -> Faults:
    """All of a card, in the order of reports."""
    lack = [Fault("voltage-too-low", light.id, light, ALL) for light, _ in lacking(case)]
    never = {fault.name for fault in lack}
    found = [
        *too_high(case),
        *lack,
        *overdrawn(case),
        *uneven(case, never),
        *dim(case, never),
        *short_lived(case),
    ]
    found.sort(key=_place)
    return {(fault.code, fault.name): fault for fault in found}


def _place(fault: Fault) -> tuple[object, ...]:
    x, y = fault.part.at
    return (CODES.index(fault.code), round(y, 3), round(x, 3), fault.part.id)


def too_high(case: Case) -> Iterator[Fault]:
    """Lights above `largest-ma` after a minute."""
    for light, flow in case.fed:
        excess = 1e3 * flow.amps[MINUTE] / case.profile.lights[light.type].largest_ma
        if excess > 1.0 + WITHIN:
            yield Fault("current-too-high", light.id, light, excess)


def lacking(case: Case) -> list[Fed]:
    """Lights that stay dark on a perfect supply, with resistors as drawn and with tape in their
    place: what they lack is voltage."""
    dark = [(light, flow) for light, flow in case.fed if flow.amps[PRESSED] <= LIT]
    dark = [pair for pair in dark if not _has_voltage(case, pair[0])]
    across = Change(stiff=True, ohms={part.id: 0.0 for part in case.card.resistors})
    for change in (Change(stiff=True), across)[: 2 if across.ohms else 1]:
        if not dark or case.supply is None:
            return []
        best = case.supply.operate(change).lights
        dark = [pair for pair in dark if best[pair[0].id].amps[PRESSED] <= LIT]
    return dark


def _has_voltage(case: Case, light: Part) -> bool:
    """Whether a light lies between plus and minus itself, on a battery that surely is enough."""
    signs = [case.circuit.pad_net(light, pad).polarity for pad in PADS["light"]]
    kinds = case.profile.cells
    volts = [kinds[cell.type].volt for cell in case.card.cells if cell.type in kinds]
    needs = volts_needed(case.profile.lights[light.type]) + SURE
    return signs == ["positive", "negative"] and needs < min(volts, default=0.0)


def volts_needed(kind: LightType) -> float:
    """The voltage at which a light just begins to glow (0.05 mA), or its chip to run (V)."""
    slope = kind.ideality * thermal_volt(kind.temperature_c)
    own = slope * log(LIT / kind.saturation_current_a + 1.0)
    return max(own + LIT * (kind.series_ohm + kind.resistor_ohm), kind.least_volt)


def overdrawn(case: Case) -> Iterator[Fault]:
    """Batteries above `continuous-ma` after a minute."""
    flows = case.operation.cells if case.operation is not None else {}
    for cell in case.card.cells:
        if cell.id in flows:
            limit = case.profile.cells[cell.type].continuous_ma
            excess = 1e3 * flows[cell.id].amps[MINUTE] / limit
            if excess > 1.0 + WITHIN:
                yield Fault("cell-overdrawn", cell.id, cell, excess)


def uneven(case: Case, never: set[str]) -> Iterator[Fault]:
    """Types whose dimmest light gets too little of what the brightest gets, aged. Where all are
    dark, none is faint beside another."""
    limit = case.profile.limits.light_evenness
    for kind in dict.fromkeys(light.type for light, _ in case.fed):
        lights = lights_of_type(case, kind, never)
        glows = any(flow.amps[AGED] > LIT for _, flow in lights)
        if glows and evenness(lights) < limit * (1.0 - WITHIN):
            dimmest = dimmest_and_brightest(lights)[0][0]
            yield Fault("uneven-lights", kind, dimmest, limit / max(evenness(lights), DARK_SHARE))


def lights_of_type(case: Case, kind: str, never: set[str]) -> list[Fed]:
    """Lights of one type on a closed way from the battery, but those that lack voltage."""
    return [pair for pair in case.fed if pair[0].type == kind and pair[0].id not in never]


def evenness(lights: Sequence[Fed]) -> float:
    """Dimmest over brightest, aged; 1 where there is nothing to compare."""
    amps = [flow.amps[AGED] for _, flow in lights]
    return max(min(amps), 0.0) / max(amps) if len(amps) > 1 and max(amps) > 0.0 else 1.0


def dimmest_and_brightest(lights: Sequence[Fed]) -> tuple[Fed, Fed]:
    """Of some lights, aged; ties by id."""

    def key(pair: Fed) -> tuple[float, str]:
        return (pair[1].amps[AGED], pair[0].id)

    return min(lights, key=key), max(lights, key=key)


def dim(case: Case, never: set[str]) -> Iterator[Fault]:
    """Lights under `light-smallest-ma` after a minute, but those that lack voltage. Dark is dark:
    below 0.05 mA none is worse than another."""
    least = 1e-3 * case.profile.limits.light_smallest_ma
    dark = min(LIT, least)
    for light, flow in case.fed:
        if flow.amps[MINUTE] < least * (1.0 - WITHIN) and light.id not in never:
            yield Fault("light-dim", light.id, light, least / max(flow.amps[MINUTE], dark))


def short_lived(case: Case) -> Iterator[Fault]:
    """Batteries that glow for less than `least-hours`, by the shorter end of the band."""
    flows = case.operation.cells if case.operation is not None else {}
    least = case.profile.limits.least_hours
    for cell in case.card.cells:
        hours = flows[cell.id].hours if cell.id in flows else None
        if hours is not None and hours[0] < least * (1.0 - WITHIN):
            yield Fault("cell-life-short", cell.id, cell, least / max(hours[0], least / ALL))
