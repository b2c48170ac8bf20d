"""A card with something changed about it: judged by the same rules as the card itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TypeVar

from ...connectivity import read_circuit
from ...model.card import Card
from ...model.case import LIT, Case
from ...model.finding import Finding
from ...model.operation import MINUTE, Change, Operation, Supply
from ...records import record
from .faults import Faults, faults_of

T = TypeVar("T")

#: A rule's own `check`.
Rule = Callable[[Case], Iterator[Finding]]


@record
class State:
    """`base` is the card, wired up anew where its shapes changed; `change` what is computed."""

    base: Case
    change: Change

    @cached_property
    def case(self) -> Case:
        """The card as it then is, ready for the rules."""
        change = self.change
        supply = None if self.base.supply is None else _changed(self.base.supply, change)
        return replace(self.base, card=_parts_changed(self.base.card, change), supply=supply)

    @cached_property
    def faults(self) -> Faults:
        return faults_of(self.case)

    @property
    def glows(self) -> bool:
        """Whether any light burns after a minute: a dark card is no cure for a faint one."""
        return any(flow.amps[MINUTE] > LIT for _, flow in self.case.fed)

    def then(self, change: Change) -> State:
        """The same with one thing more changed."""
        return State(self.base, self.change.then(change))

    def worse_than(self, before: State) -> bool:
        """Whether it has a fault that is not there before, or misses a limit by more."""
        known = before.faults
        return any(
            key not in known or fault.excess > known[key].excess * (1.0 + 1e-6)
            for key, fault in self.faults.items()
        )


@record
class Option:
    """One thing that could be done, in words that a maker can follow, and what it leads to."""

    words: str
    state: State


class Purse:
    """How many trials a card may still cost; each computes its currents anew."""

    def __init__(self, trials: int) -> None:
        self._left = trials

    def spend(self, trials: int = 1) -> bool:
        """Take that much out; false where it is empty."""
        self._left -= trials
        return self._left >= 0


#: Tells whether an option is good enough.
Passes = Callable[[State], bool]


def first_from(
    sizes: Sequence[T], lead_to: Callable[[T], State], purse: Purse, goals: Sequence[Passes]
) -> T | None:
    """The first of some growing sizes with which a goal is reached, the best goal that can be.

    By bisection: what lies beyond a size that reaches a goal is taken to reach it too.
    """
    for goal in goals:
        low, high = -1, len(sizes)
        while high - low > 1 and purse.spend():
            middle = (low + high) // 2
            if goal(lead_to(sizes[middle])):
                high = middle
            else:
                low = middle
        if high < len(sizes):
            return sizes[high]
    return None


def _changed(supply: Supply, change: Change) -> Supply:
    def operate(more: Change) -> Operation:
        return supply.operate(change.then(more))

    return Supply(operate, supply.way)


def _parts_changed(card: Card, change: Change) -> Card:
    """The card with the lights and batteries that are then on it."""
    lights = tuple(
        replace(light, type=change.types.get(light.id, light.type))
        for light in card.lights
        if light.id not in change.without
    )
    cells = tuple(replace(cell, type=change.cells or cell.type) for cell in card.cells)
    return replace(card, lights=lights, cells=cells)


def rewired(case: Case, card: Card) -> Case:
    """Another card of the same drawing, with its circuit read anew."""
    from ...electrical import supply_of  # late: only a card with a fault comes here

    circuit = read_circuit(card, case.profile.tape.adhesive_conducts)
    return replace(case, card=card, circuit=circuit, supply=supply_of(card, circuit, case.profile))


def breaks(before: Case, after: Case, rules: Sequence[Rule]) -> bool:
    """Whether some of these rules has more or graver faults on one card than on the other."""
    return any(
        now > then
        for rule in rules
        for now, then in zip(_loud(after, rule), _loud(before, rule), strict=True)
    )


def _loud(case: Case, rule: Rule) -> tuple[int, int]:
    """Stops, and stops and cautions together."""
    severities = [finding.severity for finding in rule(case)]
    return severities.count("stop"), len(severities) - severities.count("note")
