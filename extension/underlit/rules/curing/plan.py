"""The search for cures: few, each proved by computing, none against another."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from ...model.card import Part
from ...model.case import Case
from ...model.operation import Change
from ...records import record
from .batteries import other_battery
from .faults import Fault, Faults
from .lights import fewer, other_resistors, recoloured, resistors, side_by_side
from .states import Option, Passes, Purse, State
from .tape import one_piece, other_end, wider

#: On cards of more lights than this nothing is tried out: a trial takes a tenth of a second.
MANY = 150

#: Trials of one card: so many over the number of its conductors, at most and at least.
WORK, MOST, LEAST = 6000, 60, 10

#: Cures that are found one after the other, at most.
STEPS = 4


@record
class Cure:
    """`words` say what to do; `state` is the card then, cures before it included. `cured` faults
    are gone with it, in the order of reports."""

    words: str
    state: State
    cured: tuple[Fault, ...]

    @property
    def after(self) -> Case:
        return self.state.case


@record
class Plan:
    """All faults of a card, and cures for as many of them as could be found."""

    faults: Faults
    cures: tuple[Cure, ...]
    tried: bool


@lru_cache(maxsize=1)
def plan_of(case: Case) -> Plan:
    """The plan of the card that is being judged: rules ask for it one after the other."""
    start = state = State(case, Change())
    if not start.faults or len(case.card.lights) > MANY:
        return Plan(start.faults, (), not start.faults)
    work = WORK // max(len(case.circuit.conductors), 1)
    purse = Purse(max(min(work, MOST), LEAST))
    cures: list[Cure] = []
    while state.faults and len(cures) < STEPS:
        best = _best(case, state, purse)
        if best is None:
            break
        cures.append(Cure(best.words, best.state, _gone(state, best.state)))
        state = best.state
    return Plan(start.faults, tuple(cures), True)


def _gone(before: State, after: State) -> tuple[Fault, ...]:
    return tuple(fault for key, fault in before.faults.items() if key not in after.faults)


def _best(case: Case, state: State, purse: Purse) -> Option | None:
    """The first option that leaves no fault at all; else the first that takes most of them away."""
    best, most = None, 0
    for option in _options(case, state, purse):
        if option.state.worse_than(state) or not option.state.glows:
            continue
        if not option.state.faults:
            return option
        gone = len(_gone(state, option.state))
        if gone > most:
            best, most = option, gone
    return best


def _options(case: Case, state: State, purse: Purse) -> Iterator[Option]:
    """What could help, the least trouble first."""
    first = next(iter(state.faults.values()))
    goals: tuple[Passes, ...] = (
        lambda trial: not trial.faults,
        lambda trial: all(fault.code != first.code for fault in trial.faults.values()),
        lambda trial: all(fault.code == first.code for fault in trial.faults.values()),
        lambda trial: len(_gone(state, trial)) > 0,
    )
    yield from side_by_side(case, state, goals, purse)
    yield from other_resistors(case, state, goals, purse)
    faint = [f.part for f in state.faults.values() if f.code in {"uneven-lights", "light-dim"}]
    if first.code == "uneven-lights":
        yield from _tape(case, state, first.part, purse)
    yield from resistors(case, state, goals, purse)
    if faint and first.code != "uneven-lights":
        yield from _tape(case, state, faint[0], purse)
    yield from other_battery(case, state, first.code, purse)
    yield from recoloured(case, state)
    yield from fewer(case, state, goals[:2], purse)


def _tape(case: Case, state: State, light: Part, purse: Purse) -> Iterator[Option]:
    """What could be done to the tape, where tape without resistance would help."""
    ideal = state.then(Change(tape=0.0, joints=0.0))
    if not purse.spend() or not _gone(state, ideal):
        return  # it is not the tape
    yield from one_piece(case, state)
    yield from wider(case, state, purse)
    yield from other_end(case, state, light)
