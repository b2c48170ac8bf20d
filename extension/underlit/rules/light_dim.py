"""light-dim: a light that will be faint or dark.

It gets less than `light-smallest-ma` after a minute. Either the battery is shared by too many
lights, or a light of a lower voltage takes nearly all (red beside blue), or too much tape and too
many overlaps lie before it. The message says which; the remedy is tried out by computing.
Estimates: lights of one bag differ by 0.1 volt, which is a good deal of current.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding
from ..model.operation import MINUTE, Change, LightFlow, Operation
from .cures import before, cure_for, glow_word, ma, ma_against, robbers
from .voltage_too_low import lacking
from .wording import figure

CODE = "light-dim"

#: Tape is to blame where a light would get so many times as much without its resistance.
BLAME = 1.3


def check(case: Case) -> Iterator[Finding]:
    """One finding per light."""
    dim = _dim(case)
    if not dim:
        return
    worst, least = min(dim, key=lambda pair: (pair[1].amps[MINUTE], pair[0].id))
    names = [light.id for light, _ in dim]
    cure = cure_for(case, worst, least, lambda trial: _all_fine(case, trial))
    assert case.supply is not None
    ideal = case.supply.operate(Change(tape=0.0, joints=0.0)).lights
    for light, flow in dim:
        message = f"{_words(case, light, flow)}: {_why(case, light, flow, ideal[light.id])}."
        remedy = _remedy(light.id, cure, len(names))
        yield Finding(CODE, "caution", light.at, (light.id,), message, remedy)


def _dim(case: Case) -> list[tuple[Part, LightFlow]]:
    least = 1e-3 * case.profile.limits.light_smallest_ma
    dim = [(light, flow) for light, flow in case.fed if flow.amps[MINUTE] < least * (1.0 - 1e-9)]
    never = {light.id for light, _ in lacking(case)} if dim else set()
    return [(light, flow) for light, flow in dim if light.id not in never]


def _all_fine(case: Case, trial: Operation) -> bool:
    """Whether every light that a trial keeps gets enough and none too much."""
    least = 1e-3 * case.profile.limits.light_smallest_ma
    for light, _ in case.fed:
        flow = trial.lights.get(light.id)
        most = 1e-3 * case.profile.lights[light.type].largest_ma
        if flow is not None and not least <= flow.amps[MINUTE] <= most:
            return False
    return True


def _words(case: Case, light: Part, flow: LightFlow) -> str:
    least = case.profile.limits.light_smallest_ma
    word = glow_word(flow.amps[MINUTE], least)
    if not flow.runs[MINUTE]:
        return f"{case.call(light)} will be dark or flicker ({flow.volts[MINUTE]:.1f} volts)"
    amps = ma_against(flow.amps[MINUTE], least)
    return (
        f"{case.call(light)} will be {word}, about {amps} mA after a minute where "
        f"{figure(least)} is the least"
    )


def _why(case: Case, light: Part, flow: LightFlow, ideal: LightFlow) -> str:
    robbing = robbers(case, light, flow)
    if robbing:
        kinds = " and ".join(sorted({part.type for part in robbing}))
        return f"the {kinds} light beside it needs less voltage and takes nearly all"
    way = before(case, light) if ideal.amps[MINUTE] > BLAME * flow.amps[MINUTE] else ""
    if way:
        return f"{way} lie before it"
    if len(case.fed) == 1:
        return "this battery gives it no more"
    return f"the battery is shared by {len(case.fed)} lights"


def _remedy(name: str, cure: tuple[str, Operation] | None, dim: int) -> str:
    if cure is None:
        return "Use fewer lights, a shorter way of wider tape, and fewer overlaps."
    words, trial = cure
    flow = trial.lights.get(name)
    if flow is None:
        return f"{words}; the others are then bright enough."
    return f"{words}; this one then gets about {ma(flow.amps[MINUTE])} mA."
