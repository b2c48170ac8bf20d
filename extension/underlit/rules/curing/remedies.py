"""The plan of a card in words: each cure once, with what computing says of its effect."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ...model.card import Part
from ...model.case import Case
from ..amps import ma_span
from .faults import Fault
from .plan import Cure, Plan, plan_of

#: What some findings of one rule will be like after a cure: "it then gets about 1.2 mA".
Effect = Callable[[Case, Sequence[Part]], str]


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
    before = case.inner(_first(case, plan.cures[number - 1].cured).part)
    return f"With what is named at {before}, also {words[0].lower()}{words[1:]}"


def _elsewhere(case: Case, cure: Cure, fault: Fault) -> str:
    first = _first(case, cure.cured).part
    if first.id == fault.part.id:
        return "The cure named here helps against this too"
    return f"What is named at {case.inner(first)} helps here too"


def _none(case: Case, plan: Plan, code: str, name: str) -> str:
    cured = {(fault.code, fault.name) for cure in plan.cures for fault in cure.cured}
    first = _first(case, [fault for key, fault in plan.faults.items() if key not in cured])
    if (first.code, first.name) != (code, name):
        return f"As said at {case.inner(first.part)}."
    if not plan.tried:
        return "Use far fewer lights on this battery; on so large a card I try nothing out."
    return (
        "I tried resistors, other tape, other batteries and fewer lights by computing; none of "
        "them cures this without another fault. Begin with one light and add others one by one."
    )


def lights_then(case: Case, parts: Sequence[Part], state: int, verb: str) -> str:
    """this light then gets about 1.2 mA; these lights then get 1.1 to 1.3 mA; the others ..."""
    flows = case.operation.lights if case.operation is not None else {}
    left = [flows[part.id].amps[state] for part in parts if part.id in flows]
    if left:
        one, all_ = len(left) == 1, len(left) == len(parts)
        which = "this light" if one else "these lights"
        subject = which if all_ else "the other light" if one else "the others"
        ending = "s" if one else ""
        return f"{subject} then {verb}{ending} about {ma_span(left)}"
    others = [flow.amps[state] for _, flow in case.fed]
    if len(others) == 1:
        return f"the light that stays then {verb}s about {ma_span(others)}"
    return f"the {len(others)} lights that stay then {verb} about {ma_span(others)}"
