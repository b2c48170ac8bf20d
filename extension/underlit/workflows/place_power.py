"""Place the battery: under a chosen shape, with all that belongs to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ..connectivity import read_circuit
from ..markup.primitives import Group
from ..model.case import Case
from ..model.drawing import Drawing
from ..model.finding import Finding
from ..placement.power import place_power as find_place
from ..placement.power_data import NoPlace, Point, PowerPlace
from ..profiles import Profile
from ..records import record
from ..rules import check_all, in_order, no_room
from ..rules.wording import layers, mm
from .placing_power import (
    Chosen,
    Drawn,
    card_with,
    drawn_of,
    ground_of,
    lies_lowest,
    place_words,
    spot_of,
)
from .power_kinds import Kind, Order, kind_of, with_foam
from .power_marks import marks_of
from .preparing import summary_words
from .report import build_report, rounded
from .validate import case_of

#: What children and coin batteries call for, whenever one is placed.
CHILDREN = "Keep coin batteries away from children."


@record
class Placing:
    """What placing a battery gives.

    `drawn` and `marks` are to be drawn (page mm); `paper_first`: the rim's paper goes below all
    tape. `untouched`: the drawing stays as it was.
    """

    report: dict[str, object]
    drawn: tuple[Drawn, ...]
    marks: tuple[Group, ...]
    paper_first: bool
    untouched: bool
    select: tuple[str, ...]
    summary: str
    message: str


def place_power(
    drawing: Drawing, profile: Profile, order: Order, chosen: Chosen, names: Mapping[str, str]
) -> Placing:
    """Place one battery on a card that was read without what `order.replace` takes away.

    `names` are the ids of what will be drawn (see `placing_power.NAMES`). Raises UnknownChoice.
    """
    kind = kind_of(order, profile)
    case = case_of(drawing, profile)
    if not case.card.panels:
        return _nothing(drawing, case, _no_panel())
    at, where = spot_of(chosen, case.card)
    if case.card.cells:
        return _there(drawing, case, order)
    kind = with_foam(kind, case.card, profile)
    tried = find_place(kind.wish, ground_of(case), profile, at)
    if isinstance(tried, NoPlace):
        return _no_room(drawing, case, chosen, tried, at, where)
    return _placed(drawing, case, kind, tried, where, names)


def _placed(
    drawing: Drawing,
    case: Case,
    kind: Kind,
    place: PowerPlace,
    where: str,
    names: Mapping[str, str],
) -> Placing:
    drawn = drawn_of(place, kind, case.profile, names)
    card = card_with(case.card, place, kind, drawn, names)
    circuit = read_circuit(card, case.profile.tape.adhesive_conducts)
    after = replace(case, card=card, circuit=circuit)
    own = {names[one.key] for one in drawn}
    findings = [f for f in check_all(after) if own & set(f.objects) or f.rule == "coin-cell"]
    words = _words(kind, place, where, case.profile, findings)
    report = build_report("place_power", drawing.name, after, findings, (), None)
    report["placement"] = _figures(kind, place, where, drawn, names)
    return Placing(
        report=report,
        drawn=drawn,
        marks=marks_of(place, kind.wish, card),
        paper_first=lies_lowest(kind.wish),
        untouched=False,
        select=(names["cell"],),
        summary=summary_words(words, findings),
        message=words,
    )


def _words(
    kind: Kind, place: PowerPlace, where: str, profile: Profile, findings: Sequence[Finding]
) -> str:
    """The closing message."""
    lines = [f"Battery {where}, {kind.wish.up} side up."]
    ring, fold, tab = place.ring, place.fold, place.tab
    if ring is not None:
        feel = "soft" if ring.inside >= profile.press.ring_inside else "firm"
        lines[0] += f" Ring {mm(ring.inside)}, {feel} press."
        foam = layers(ring.foams, profile) if ring.foams else mm(ring.thickness)
        lines.append(f"Foam {foam}: the panel goes down {mm(ring.travel)} when pressed.")
    if fold is not None:
        lines.append(f"Fold the back sheet {mm(fold.distance)} from the battery's middle to close.")
    if place.collar is not None:
        lines.append("The paper ring keeps minus tape off the battery's rim.")
    if tab is not None:
        lines.append(f"A pull tab stands out {mm(tab.out)} to be gripped.")
        if tab.foam:
            lines.append(f"Cut the foam open where the tab passes ({', '.join(tab.foam)}).")
    elif kind.wish.tab:
        lines.append("There was no room for a pull tab.")
    faults = [f for f in findings if f.severity != "note"]
    lines += [f"{f.message} {f.remedy}" for f in faults]
    lines.append(CHILDREN)
    return "\n".join(lines)


def _figures(
    kind: Kind,
    place: PowerPlace,
    where: str,
    drawn: Sequence[Drawn],
    names: Mapping[str, str],
) -> dict[str, object]:
    """The key `placement` of the report."""
    ring, fold, tab = place.ring, place.fold, place.tab
    return {
        "fits": True,
        "where": where,
        "at": _pair(place.at),
        "angle": rounded(place.angle % 360.0),
        "type": kind.cell,
        "holder": kind.holder,
        "closes": kind.wish.closes,
        "up": kind.wish.up,
        "objects": {one.key: names[one.key] for one in drawn},
        "ring": None
        if ring is None
        else {
            "inside": rounded(ring.inside),
            "outside": rounded(ring.outside),
            "foam": list(ring.foams),
            "thickness": rounded(ring.thickness),
            "travel": rounded(ring.travel),
        },
        "fold": None
        if fold is None
        else {
            "from": _pair(fold.start),
            "to": _pair(fold.end),
            "distance": rounded(fold.distance),
            "contact": _pair(fold.contact),
        },
        "tab": None
        if tab is None
        else {
            "at": _pair(tab.at),
            "angle": rounded(tab.angle),
            "length": rounded(tab.length),
            "width": rounded(tab.width),
            "grip": rounded(tab.out),
            "foam": list(tab.foam),
        },
    }


def _no_panel() -> Finding:
    return Finding(
        "layer-missing",
        "stop",
        None,
        (),
        "I find no panel to put the battery under.",
        "Get the drawing ready first (step 1), or draw the panel's edge on Die cut.",
    )


def _there(drawing: Drawing, case: Case, order: Order) -> Placing:
    """A card that has a battery already."""
    names = ", ".join(cell.id for cell in case.card.cells)
    words = f"There is a battery already ({names}), so I changed nothing."
    if order.replace:
        why = "It is pinned" if order.pinned else "You drew it yourself"
        way = "Unpin or delete it" if order.pinned else "Delete it"
        words += f" {why}, so it stays. {way} if you want another one placed."
    else:
        words += " To place it anew, choose Replace."
    report = build_report("place_power", drawing.name, case, (), (), None)
    report["placement"] = {"fits": None, "cells": [cell.id for cell in case.card.cells]}
    select = tuple(cell.id for cell in case.card.cells)
    return Placing(report, (), (), False, True, select, words, words)


def _no_room(
    drawing: Drawing, case: Case, chosen: Chosen, tried: NoPlace, at: Point, where: str
) -> Placing:
    """A place where the battery does not fit."""
    message = f"The battery does not fit {where}. {' '.join(tried.reasons)}"
    if tried.nearest is None:
        remedy = "It fits nowhere on this card: take a smaller battery or another way of closing."
        if not any("foam" in reason.lower() for reason in tried.reasons):
            remedy += " Fewer or smaller windows make room too."
    else:
        x, y = tried.nearest
        remedy = (
            f"Nearest it fits at {place_words(x)}, {place_words(y)} mm, "
            f"{_way(at, tried.nearest)}; give that place, or choose another shape."
        )
    objects = (chosen.opening or chosen.name,) if chosen.at is None else ()
    finding = Finding(no_room.CODE, "stop", at, objects, message, remedy)
    placed = _nothing(drawing, case, finding)
    placed.report["placement"] = {
        "fits": False,
        "where": where,
        "at": _pair(at),
        "reasons": list(tried.reasons),
        "nearest": None if tried.nearest is None else _pair(tried.nearest),
    }
    return placed


def _nothing(drawing: Drawing, case: Case, finding: Finding) -> Placing:
    findings = in_order([finding])
    report = build_report("place_power", drawing.name, case, findings, (), None)
    report["placement"] = {"fits": None}
    words = f"{finding.message} {finding.remedy}\nNothing was changed."
    return Placing(report, (), (), False, True, (), words, words)


def _way(start: Point, end: Point) -> str:
    """That is 12 mm farther down and 3 mm to the left."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    words = []
    if abs(dy) >= 0.05:
        words.append(f"{mm(abs(dy))} farther {'down' if dy > 0 else 'up'}")
    if abs(dx) >= 0.05:
        words.append(f"{mm(abs(dx))} to the {'right' if dx > 0 else 'left'}")
    return f"that is {' and '.join(words)}" if words else "less than 0.1 mm beside it"


def _pair(point: Point) -> list[float]:
    return [rounded(point[0]), rounded(point[1])]
