"""Place the battery: under a chosen shape, with all that belongs to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ..connectivity import read_circuit
from ..language import hundredths, joined, later, mm, say, say_count
from ..markup.primitives import Group, Text
from ..model.case import Case
from ..model.drawing import Drawing
from ..model.finding import Finding
from ..placement.power import place_power as find_place
from ..placement.power_data import NoPlace, Point, PowerPlace, Ring
from ..profiles import Profile
from ..records import record
from ..rules import check_all, in_order, no_room
from ..rules.wording import layers
from .placing_power import (
    Chosen,
    Drawn,
    card_with,
    drawn_of,
    ground_of,
    lies_lowest,
    spot_of,
)
from .power_kinds import Kind, Order, kind_of, with_foam
from .power_marks import marks_of
from .preparing import summary_words
from .report import build_report, rounded
from .validate import case_of
from .windows import window_numbers

#: What children and coin batteries call for, whenever one is placed.
CHILDREN = later("Keep coin batteries away from children.")


@record
class Placing:
    """What placing a battery gives.

    `drawn` and `marks` are to be drawn (page mm); `paper_first`: the rim's paper goes below all
    tape. `untouched`: the drawing stays as it was. `numbers` of windows (by name) keep clear of it.
    """

    report: dict[str, object]
    drawn: tuple[Drawn, ...]
    marks: tuple[Group, ...]
    paper_first: bool
    untouched: bool
    select: tuple[str, ...]
    summary: str
    message: str
    numbers: tuple[tuple[str, Text], ...] = ()


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
    faults = [finding for finding in findings if finding.severity != "note"]
    words = _words(kind, place, where, case.profile, faults)
    report = build_report("place_power", drawing.name, after, findings, (), None)
    report["placement"] = _figures(kind, place, where, drawn, names)
    return Placing(
        report=report,
        drawn=drawn,
        marks=marks_of(place, kind.wish, card),
        paper_first=lies_lowest(kind.wish),
        untouched=False,
        select=(names["cell"],),
        summary=summary_words(words, findings, faults),
        message=words,
        numbers=window_numbers(card),
    )


def _words(
    kind: Kind, place: PowerPlace, where: str, profile: Profile, faults: Sequence[Finding]
) -> str:
    """The closing message."""
    lines = [say("Battery {where}, minus side up.", where=where)]
    if kind.wish.up == "plus":
        lines = [say("Battery {where}, plus side up.", where=where)]
    ring, fold, tab = place.ring, place.fold, place.tab
    if ring is not None:
        lines[0] += f" {_ring_words(ring, profile)}"
        lines.append(
            say(
                "Foam {foam}: the panel goes down {travel} when pressed.",
                foam=layers(ring.foams, profile) if ring.foams else mm(ring.thickness),
                travel=mm(ring.travel),
            )
        )
    if fold is not None:
        lines.append(
            say(
                "Fold the back sheet {distance} from the battery's middle to close.",
                distance=mm(fold.distance),
            )
        )
    if place.collar is not None:
        lines.append(say("The paper ring keeps minus tape off the battery's rim."))
    if tab is not None:
        lines.append(say("A pull tab stands out {length} to be gripped.", length=mm(tab.out)))
        if tab.foam:
            lines.append(say("Cut the foam open where the tab passes."))
    elif kind.wish.tab:
        lines.append(say("There was no room for a pull tab."))
    lines += [f"{fault.message} {fault.remedy}" for fault in faults]
    lines.append(say(CHILDREN))
    return "\n".join(lines)


def _ring_words(ring: Ring, profile: Profile) -> str:
    """How wide the press ring is, and how it feels."""
    inside = mm(ring.inside)
    if ring.inside >= profile.press.ring_inside:
        return say("Ring {inside}, soft press.", inside=inside)
    return say("Ring {inside}, firm press.", inside=inside)


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
        say("I find no panel to put the battery under."),
        say("Get the drawing ready first (step 1), or draw the panel's edge on Die cut."),
    )


def _there(drawing: Drawing, case: Case, order: Order) -> Placing:
    """A card that has a battery already."""
    batteries = len(case.card.cells)
    if not order.replace:
        why = say("To place it anew, choose Replace.")
    elif order.pinned:
        why = say("It is pinned, so it stays. Unpin or delete it if you want another one placed.")
    else:
        why = say("You drew it yourself, so it stays. Delete it if you want another one placed.")
    done = say_count(
        "There is a battery already, so I changed nothing.",
        "There are {number} batteries already, so I changed nothing.",
        batteries,
    )
    words = f"{done} {why}"
    report = build_report("place_power", drawing.name, case, (), (), None)
    report["placement"] = {"fits": None, "cells": [cell.id for cell in case.card.cells]}
    select = tuple(cell.id for cell in case.card.cells)
    return Placing(report, (), (), False, True, select, words, words)


def _no_room(
    drawing: Drawing, case: Case, chosen: Chosen, tried: NoPlace, at: Point, where: str
) -> Placing:
    """A place where the battery does not fit."""
    message = " ".join([say("The battery does not fit {where}.", where=where), *tried.reasons])
    if tried.nearest is None:
        remedy = say(
            "It fits nowhere on this card: take a smaller battery or another way of closing."
        )
        if not tried.foam:
            remedy += " " + say("Fewer or smaller windows make room too.")
    else:
        x, y = tried.nearest
        remedy = say(
            "Nearest it fits at {x}, {y} mm, {way}; give that place, or choose another shape.",
            x=hundredths(x),
            y=hundredths(y),
            way=_way(at, tried.nearest),
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
    nothing = say("Nothing was changed.")
    words = f"{finding.message} {finding.remedy}\n{nothing}"
    return Placing(report, (), (), False, True, (), words, words)


def _way(start: Point, end: Point) -> str:
    """That is 12 mm farther down and 3 mm to the left."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    words = []
    if abs(dy) >= 0.05:
        far = mm(abs(dy))
        words.append(
            say("{far} farther down", far=far) if dy > 0 else say("{far} farther up", far=far)
        )
    if abs(dx) >= 0.05:
        far = mm(abs(dx))
        words.append(
            say("{far} to the right", far=far) if dx > 0 else say("{far} to the left", far=far)
        )
    if not words:
        return say("less than 0.1 mm beside it")
    return say("that is {ways}", ways=joined(words))


def _pair(point: Point) -> list[float]:
    return [rounded(point[0]), rounded(point[1])]
