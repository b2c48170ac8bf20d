"""light-dim: a light that will be faint or dark.

It gets less than `light-smallest-ma` after a minute. Either the battery is shared by too many
lights, or a light of a lower voltage takes nearly all (red beside blue), or too much tape and too
many overlaps lie before it. The message says which; the remedy is tried out by computing.
Estimates: lights of one bag differ by 0.1 volt, which is a good deal of current.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import inf

from ..language import figure, later, say
from ..model.card import Part
from ..model.case import LIT, Case
from ..model.finding import Finding, Together
from ..model.operation import MINUTE, Change, LightFlow
from .amps import glow_word, ma_against, ma_span
from .curing.faults import dim, lacking
from .curing.lights import robbers
from .curing.remedies import lights_then, remedy, said_at
from .ways import way_to
from .wording import kind_words, numbers

CODE = "light-dim"

#: Tape or a resistor is to blame where a light would get so many times as much without it.
BLAME = 1.3

#: What is said of resistors without which (open, or tape in their place) a light would be brighter.
RESISTORS = {
    later("the resistor between plus and minus takes what it should get"): inf,
    later("the resistor before it lets too little through"): 0.0,
}

#: What is said of a light, by how little it gets.
WORDS = {
    "flicker": later("{light} will be dark or flicker: {why} ({figures})."),
    "dark": later("{light} will be dark: {why} ({figures})."),
    "faint": later("{light} will be faint: {why} ({figures})."),
}


def check(case: Case) -> Iterator[Finding]:
    """One finding per light; lights that share a battery are told in one."""
    faint = list(dim(case, {light.id for light, _ in lacking(case)}))
    if not faint or case.supply is None:
        return
    flows = {light.id: flow for light, flow in case.fed}
    ideal = case.supply.operate(Change(tape=0.0, joints=0.0)).lights
    others = _without_resistors(case)
    alone = _alone(case, faint[0].part)
    found: list[Finding] = []
    sharing: list[Part] = []
    for fault in faint:
        light, flow = fault.part, flows[fault.name]
        why = _robbed(case, light, flow)
        why = why or next(
            (say(w) for w, then in others.items() if _blamed(flow, then[light.id])), ""
        )
        if not why and _blamed(flow, ideal[light.id]):
            way = way_to(case, light)
            why = "" if way is None else say("{tape} lie before it", tape=way.words)
        if not why and alone and _word(case, flow) == "faint":
            sharing.append(light)
        why = why or _shared(case, light, flow, alone)
        message = say(
            WORDS[_word(case, flow)],
            light=case.call(light),
            why=why,
            figures=_figures(case, light, flow),
        )
        cure = remedy(case, CODE, light.id, _effect)
        found.append(Finding(CODE, "caution", light.at, (light.id,), message, cure))
    together = _together(case, sharing, found, flows)
    names = {light.id for light in sharing}
    for one in found:
        yield replace(one, together=together) if names.issuperset(one.objects) else one


def _together(
    case: Case,
    lights: Sequence[Part],
    found: Sequence[Finding],
    flows: Mapping[str, LightFlow],
) -> Together | None:
    """Lights that are faint because they share a battery, in one sentence with their one cure."""
    told = {said_at(case, CODE, light.id).id for light in lights}
    if len(lights) < 2 or len(told) > 1 or not told <= {light.id for light in lights}:
        return None
    message = say(
        "Lights {numbers} will be faint: {why} ({amps} each after a minute, {least} is the least).",
        numbers=numbers([case.number(light) for light in lights]),
        why=_sharing(case),
        amps=ma_span(flows[light.id].amps[MINUTE] for light in lights),
        least=figure(case.profile.limits.light_smallest_ma),
    )
    cure = next(one.remedy for one in found if set(one.objects) == told)
    return Together(len(lights), message, cure)


def _sharing(case: Case) -> str:
    return say("{number} lights share the battery", number=len(case.fed))


def _without_resistors(case: Case) -> dict[str, Mapping[str, LightFlow]]:
    """What is said of resistors -> what lights would get without them."""
    names = [part.id for part in case.card.resistors]
    if not names or case.supply is None:
        return {}
    return {
        words: case.supply.operate(Change(ohms=dict.fromkeys(names, ohm))).lights
        for words, ohm in RESISTORS.items()
    }


def _alone(case: Case, light: Part) -> bool:
    """Whether a light would be much brighter without all others."""
    if case.supply is None or len(case.fed) == 1:
        return False
    others = frozenset(other.id for other, _ in case.fed if other.id != light.id)
    then = case.supply.operate(Change(without=others)).lights[light.id]
    return any(_blamed(flow, then) for one, flow in case.fed if one.id == light.id)


def _blamed(flow: LightFlow, then: LightFlow) -> bool:
    return then.amps[MINUTE] > BLAME * max(flow.amps[MINUTE], 0.0)


def _word(case: Case, flow: LightFlow) -> str:
    """Which of the sentences says how dim it is."""
    if not flow.runs[MINUTE]:
        return "flicker"
    return glow_word(flow.amps[MINUTE], case.profile.limits.light_smallest_ma)


def _figures(case: Case, light: Part, flow: LightFlow) -> str:
    if not flow.runs[MINUTE]:
        needs = figure(case.profile.lights[light.type].least_volt)
        return say(
            "about {volts} volts after a minute, its chip needs {needs}",
            volts=figure(flow.volts[MINUTE]),
            needs=needs,
        )
    least = case.profile.limits.light_smallest_ma
    if flow.amps[MINUTE] <= LIT:
        return say(
            "it gets next to nothing after a minute, {least} mA is the least", least=figure(least)
        )
    amps = ma_against(flow.amps[MINUTE], least)
    return say(
        "about {amps} mA after a minute, {least} is the least", amps=amps, least=figure(least)
    )


def _robbed(case: Case, light: Part, flow: LightFlow) -> str:
    robbing = robbers(case, light, flow)
    if not robbing:
        return ""
    kinds = kind_words({part.type for part in robbing})
    if len(robbing) == 1:
        return say(
            "the {kinds} light beside it needs less voltage and takes nearly all", kinds=kinds
        )
    return say("the {kinds} lights beside it need less voltage and take nearly all", kinds=kinds)


def _shared(case: Case, light: Part, flow: LightFlow, alone: bool) -> str:
    """Where neither another colour nor tape is to blame. `alone`: brighter without the others."""
    if alone:
        return _sharing(case)
    kind, kinds = case.profile.lights[light.type], case.profile.cells
    volt = max(kinds[cell.type].volt for cell in case.card.cells if cell.type in kinds)
    if kind.resistor_ohm * flow.amps[MINUTE] > volt - flow.volts[MINUTE]:  # most is lost there
        return say(
            "its own resistor of {ohms} ohms lets too little through",
            ohms=figure(kind.resistor_ohm),
        )
    return say("this battery gives it no more")


def _effect(case: Case, parts: Sequence[Part]) -> str:
    return lights_then(case, parts, MINUTE, "get")
