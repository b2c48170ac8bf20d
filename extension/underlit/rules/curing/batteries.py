"""Another battery, where the card and its stack have room for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from shapely import affinity

from ...connectivity.contacts import is_bare
from ...language import figure, say
from ...model.card import Card, Part
from ...model.case import Case
from ...model.operation import Change
from ...profiles import CellType
from .. import (
    card_too_thick,
    cell_rim_touch,
    edge_too_near,
    foam_on_part,
    folded_touch,
    gap_too_small,
    light_blocked,
    off_base,
    parts_overlap,
    stack_too_low,
    tape_on_fold,
)
from .states import Option, Purse, State, breaks, rewired
from .tape import REWIRING

#: Rules that another battery could break.
KEPT = (
    parts_overlap.check,
    cell_rim_touch.check,
    gap_too_small.check,
    off_base.check,
    folded_touch.check,
    edge_too_near.check,
    tape_on_fold.check,
    light_blocked.check,
    foam_on_part.check,
    stack_too_low.check,
    card_too_thick.check,
)


def other_battery(case: Case, state: State, code: str, purse: Purse) -> Iterator[Option]:
    """Other types that could help, those of the same size first, then by what is in them."""
    own = {cell.type for cell in state.case.card.cells}
    kinds = case.profile.cells
    if state.change.cells or not own <= set(kinds):
        return
    size = max(kinds[name].diameter for name in own)
    strained = [kinds[name] for name in own]
    others = [n for n in kinds if n not in own and _could_help(code, strained, kinds[n])]
    others.sort(key=lambda name: (abs(kinds[name].diameter - size) > 0.1, kinds[name].capacity_mah))
    for name in others:
        changed = state.then(Change(cells=name))
        if not purse.spend() or changed.worse_than(state):
            continue
        if not purse.spend(REWIRING):
            return
        if not breaks(case, rewired(case, _with_cells(case, name)), KEPT):
            yield Option(_words(case, name), changed)


def _could_help(code: str, now: Sequence[CellType], other: CellType) -> bool:
    """Whether another battery is stronger or weaker, larger, as a fault asks for."""
    weaker = any(other.sustained_ohm > own.sustained_ohm or other.volt < own.volt for own in now)
    if code == "current-too-high":
        return weaker
    if code == "cell-overdrawn":
        return weaker or any(other.continuous_ma > own.continuous_ma for own in now)
    if code == "cell-life-short":
        return weaker or any(other.capacity_mah > own.capacity_mah for own in now)
    return any(other.sustained_ohm < own.sustained_ohm or other.volt > own.volt for own in now)


def _words(case: Case, name: str) -> str:
    kind = case.profile.cells[name]
    across, high = figure(kind.diameter), figure(kind.height)
    size = say("{across} mm across, {high} mm high", across=across, high=high)
    if any(not is_bare(cell) for cell in case.card.cells):
        size = say(
            "{across} mm across, {high} mm high, in a holder that fits", across=across, high=high
        )
    if len(case.card.cells) == 1:
        return say("Use a {battery} battery ({size})", battery=name.upper(), size=size)
    return say("Use {battery} batteries ({size})", battery=name.upper(), size=size)


def _with_cells(case: Case, name: str) -> Card:
    """The card with the bodies of bare batteries as large as the other type's."""
    kinds = case.profile.cells
    cells = tuple(
        _grown(cell, name, kinds[name].diameter / kinds[cell.type].diameter)
        for cell in case.card.cells
    )
    return replace(case.card, cells=cells)


def _grown(cell: Part, name: str, share: float) -> Part:
    if not is_bare(cell):
        return replace(cell, type=name)
    centre = cell.body.centroid
    body = affinity.scale(cell.body, share, share, origin=centre)
    return replace(cell, type=name, features={**cell.features, "body": body})
