"""The plan of a card in words: each cure once, with what computing says of its effect."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ...language import inside, later, say
from ...model.card import Part
from ...model.case import Case
from ...records import record
from ..amps import ma_span
from .faults import Fault
from .plan import Cure, Plan, plan_of

#: What some findings of one rule will be like after a cure: "it then gets about 1.2 mA".
Effect = Callable[[Case, Sequence[Part]], str]


@record
class Then:
    """What is said of lights after a cure, each of one and of several: all that a finding is
    about; some of them; the rest of the card."""

    all: tuple[str, str]
    some: tuple[str, str]
    rest: tuple[str, str]


THEN = {
    "get": Then(
        (
            later("this light then gets about {amps}"),
            later("these lights then get about {amps}"),
        ),
        (
            later("the other light then gets about {amps}"),
            later("the others then get about {amps}"),
        ),
        (
            later("the light that stays then gets about {amps}"),
            later("the {number} lights that stay then get about {amps}"),
        ),
    ),
    "take": Then(
        (
            later("this light then takes about {amps}"),
            later("these lights then take about {amps}"),
        ),
        (
            later("the other light then takes about {amps}"),
            later("the others then take about {amps}"),
        ),
        (
            later("the light that stays then takes about {amps}"),
            later("the {number} lights that stay then take about {amps}"),
        ),
    ),
}


def remedy(case: Case, code: str, name: str, effect: Effect) -> str:
    """What helps against one fault: the cure where it is said first, elsewhere where it stands."""
    plan = plan_of(case)
    for number, cure in enumerate(plan.cures):
        here = [fault for fault in cure.cured if (fault.code, fault.name) == (code, name)]
        if here and here[0] is _first(case, cure.cured):
            same = [fault.part for fault in cure.cured if fault.code == code]
            return f"{_led(case, plan, number)}; {effect(cure.after, same)}."
        if here:
            return f"{_elsewhere(case, cure, here[0])}: {effect(cure.after, [here[0].part])}."
    return _none(case, plan, code, name)


def said_at(case: Case, code: str, name: str) -> Part:
    """The part at which it is said what helps against a fault."""
    plan = plan_of(case)
    for cure in plan.cures:
        if any((fault.code, fault.name) == (code, name) for fault in cure.cured):
            return _first(case, cure.cured).part
    return _uncured(case, plan).part


def _uncured(case: Case, plan: Plan) -> Fault:
    """The first fault that nothing helps against."""
    cured = {(fault.code, fault.name) for cure in plan.cures for fault in cure.cured}
    return _first(case, [fault for key, fault in plan.faults.items() if key not in cured])


def _first(case: Case, faults: Sequence[Fault]) -> Fault:
    """Where it is said: at the first fault that its maker does not accept, which nobody reads."""
    accepts = case.card.accepts
    heard = (one for one in faults if one.code not in accepts.get(one.part.id, ()))
    return next(heard, faults[0])


def _led(case: Case, plan: Plan, number: int) -> str:
    """The words of a cure; a later one was computed together with those before it."""
    words = plan.cures[number].words
    if number == 0:
        return words
    return say(
        "With what is named {at_part}, also {cure}",
        at_part=case.at(_first(case, plan.cures[number - 1].cured).part),
        cure=inside(words),
    )


def _elsewhere(case: Case, cure: Cure, fault: Fault) -> str:
    first = _first(case, cure.cured).part
    if first.id == fault.part.id:
        return say("The cure named here helps against this too")
    return say("What is named {at_part} helps here too", at_part=case.at(first))


def _none(case: Case, plan: Plan, code: str, name: str) -> str:
    first = _uncured(case, plan)
    if (first.code, first.name) != (code, name):
        return say("As said {at_part}.", at_part=case.at(first.part))
    if not plan.tried:
        return say("Use far fewer lights on this battery; on so large a card I try nothing out.")
    return say(
        "I tried resistors, other tape, other batteries and fewer lights by computing; none of "
        "them cures this without another fault. Begin with one light and add others one by one."
    )


def lights_then(case: Case, parts: Sequence[Part], state: int, verb: str) -> str:
    """this light then gets about 1.2 mA; these lights then get 1.1 to 1.3 mA; the others ...
    `verb`: get | take."""
    flows = case.operation.lights if case.operation is not None else {}
    left = [flows[part.id].amps[state] for part in parts if part.id in flows]
    words = THEN[verb]
    if left:
        which = words.all if len(left) == len(parts) else words.some
        return say(which[len(left) > 1], amps=ma_span(left))
    others = [flow.amps[state] for _, flow in case.fed]
    return say(words.rest[len(others) > 1], number=len(others), amps=ma_span(others))
