"""Lay the foam: pads or a frame that hold the panel up, and cover and vellum if wanted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import shapely

from ..connectivity import read_circuit
from ..foam import Press, ground_of, lay_out, press_of
from ..foam.ground import press_spot
from ..language import say
from ..model.case import Case
from ..model.drawing import Drawing
from ..model.finding import Finding
from ..profiles import Profile
from ..records import record
from ..rules import check_some, in_order
from .laying_foam import (
    Foam,
    FoamWish,
    LaidSheet,
    card_with_sheets,
    figures,
    foam_for,
    foam_sheets,
    offered_sheets,
    said,
)
from .preparing import summary_words
from .report import build_report
from .stacking import stack_report
from .validate import case_of

#: Findings that foam, cover and vellum can bring about.
OWN_RULES = ("light-blocked", "foam-on-part", "card-too-thick", "stack-too-low")


@record
class FoamLaid:
    """What laying foam gives. `sheets` are to be drawn; `untouched`: the drawing stays as it is."""

    report: dict[str, object]
    sheets: tuple[LaidSheet, ...]
    untouched: bool
    select: tuple[str, ...]
    summary: str
    message: str


def lay_foam(
    drawing: Drawing, profile: Profile, wish: FoamWish, free_id: Callable[[str], str]
) -> FoamLaid:
    """Lay foam on a card that was read without what is to be replaced."""
    case = case_of(drawing, profile)
    missing = _missing(case)
    if missing is not None:
        return _nothing(drawing, case, missing)
    foam = foam_for(case)
    ground = ground_of(case.card, profile, foam.spacer, wish.off_tape)
    layout = lay_out(ground, wish.style, wish.span)
    sheets = foam_sheets(layout, wish.style, foam, profile, free_id)
    more, there = offered_sheets(case, wish, free_id)
    sheets += more
    after = _with(case, sheets)
    findings = check_some(after, OWN_RULES)
    press = _presses(after, foam)
    words = "\n".join(said(case, wish, foam, layout, sheets, there, press))
    report = build_report("lay_foam", drawing.name, after, findings, (), None)
    report["stack"] = stack_report(after)
    report["foam"] = figures(wish, foam, layout, case.card, sheets, press)
    names = tuple(one.name for one in sheets)
    return FoamLaid(report, tuple(sheets), False, names, summary_words(words, findings), words)


def _with(case: Case, sheets: list[LaidSheet]) -> Case:
    card = card_with_sheets(case.card, sheets)
    circuit = read_circuit(card, case.profile.tape.adhesive_conducts)
    return replace(case, card=card, circuit=circuit)


def _presses(case: Case, foam: Foam) -> list[tuple[str, Press]]:
    """The estimate for every battery that is pressed."""
    if foam.travel is None:
        return []
    laid = shapely.union_all([sheet.geometry for sheet in case.card.foam])
    thickness = case.profile.sheets[case.profile.stack.panel].thickness
    found = []
    for cell in case.card.cells:
        if cell.attributes.get("closes", "press") != "press":
            continue
        press = press_of(press_spot(cell, case.profile), laid, foam.travel, thickness)
        if press is not None:
            found.append((cell.id, press))
    return found


def _missing(case: Case) -> Finding | None:
    """Why there is nothing to lay foam between; None where there is."""
    if not case.card.panels:
        return _stop(
            "layer-missing",
            say("I find no panel to lay foam under."),
            say("Get the drawing ready first (step 1), or draw the panel's edge on Die cut."),
        )
    if case.card.base.is_empty:
        return _stop(
            "layer-missing",
            say("I find no back sheet to stick foam on."),
            say("Draw it on the layer Base, or let step 1 draw it."),
        )
    if case.apart or not case.panel.intersects(case.card.base):
        return _stop(
            "outside-panel",
            say("Back sheet and panel do not lie over each other, so there is no place for foam."),
            say("Move the back sheet with all that is on it under the panel."),
        )
    return None


def _stop(rule: str, message: str, remedy: str) -> Finding:
    return Finding(rule, "stop", None, (), message, remedy)


def _nothing(drawing: Drawing, case: Case, finding: Finding) -> FoamLaid:
    findings = in_order([finding])
    report = build_report("lay_foam", drawing.name, case, findings, (), None)
    report["stack"] = stack_report(case)
    report["foam"] = None
    nothing = say("Nothing was changed.")
    words = f"{finding.message} {finding.remedy}\n{nothing}"
    return FoamLaid(report, (), True, (), words, words)
