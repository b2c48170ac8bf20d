"""voltage-too-low: a light that cannot light on this battery, however good the tape.

A white, blue or green light needs nearly 3 volts, a red one nearly 2. Two in a row need the
sum, which one coin battery does not have; a colour-changing light needs `least-volt` for its
chip. Judged fresh, with tape, overlaps and battery without any resistance: what is dark even
then lacks voltage. A light that another one robs is `light-dim`.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.card import PADS, Part
from ..model.case import LIT, Case
from ..model.finding import Finding
from ..model.operation import PRESSED, Change, LightFlow

CODE = "voltage-too-low"


def check(case: Case) -> Iterator[Finding]:
    """One finding per light."""
    for light, flow in lacking(case):
        neighbours = _in_a_row(case, light)
        if neighbours:
            with_ = " and ".join(case.inner(other) for other in neighbours)
            message = (
                f"{case.call(light)} stays dark: it lies in a row with {with_}, and one battery "
                "is not enough for that."
            )
            remedy = "Put them side by side, each between plus and minus tape."
        else:
            message = (
                f"{case.call(light)} cannot light on this battery: it gets "
                f"{flow.volts[PRESSED]:.1f} volts and needs more."
            )
            remedy = "Use a light that needs less (red or amber), or take its resistor out."
        yield Finding(CODE, "stop", light.at, (light.id,), message, remedy)


def lacking(case: Case) -> list[tuple[Part, LightFlow]]:
    """Lights that stay dark even on a perfect supply."""
    dark = [(light, flow) for light, flow in case.fed if flow.amps[PRESSED] <= LIT]
    if not dark or case.supply is None:
        return []
    best = case.supply.operate(Change(stiff=True)).lights
    return [(light, flow) for light, flow in dark if best[light.id].amps[PRESSED] <= LIT]


def _in_a_row(case: Case, light: Part) -> list[Part]:
    """Other lights that share a net with neither plus nor minus with this one."""
    circuit = case.circuit
    between = {
        net for pad in PADS["light"] if (net := circuit.pad_net(light, pad)).polarity == "none"
    }
    return [
        other
        for other in case.card.lights
        if other is not light
        and any(circuit.pad_net(other, pad) in between for pad in PADS["light"])
    ]
