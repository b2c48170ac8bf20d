"""Lay the tape: route both sides, check the result as any card, say it; or say where no room is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import shapely

from ..markup.findings import findings_sheet
from ..markup.primitives import Group, Sheet
from ..markup.signs import Signed, sign_groups
from ..model.case import Case
from ..model.drawing import Drawing, Shape
from ..model.finding import Finding
from ..profiles import Profile
from ..records import record
from ..routing import Clock, Layout, Refusal, route
from ..rules import check_all, in_order, power_missing
from ..rules.layer_missing import missing
from ..rules.wording import count, figure, mm
from .board import Wish, board_of, made_by, paper_over_rim
from .laying import LaidPatch, LaidStrip, Point, laying_order, with_tape
from .no_way import refused, spoilt
from .part_areas import angle_of
from .report import build_report, rounded
from .telling import finding_lines
from .validate import case_of, extent_of

ACTION = "route_tape"

HEADING = "No room for the tape"

#: Findings that laying tape may bring: a layout that brings one is not handed back.
TAPE_RULES = frozenset(
    {
        "polarities-touch",
        "light-reversed",
        "light-unfed",
        "light-shorted",
        "pad-barely-covered",
        "joint-too-small",
        "joint-not-conducting",
        "cell-rim-touch",
        "gap-too-small",
        "off-base",
        "folded-touch",
        "edge-too-near",
        "tape-shows",
        "strip-narrow",
        "tape-on-fold",
    }
)


#: What is wrong with a card before any tape is laid, so that none can be: told as Validate does.
BEFORE = frozenset({"part-incomplete", "polarities-touch", "light-shorted", "light-reversed"})


@record
class Routed:
    """What laying tape gives.

    `strips`, with the `patches` between them, are drawn on the Tape layer after `removed` have
    been taken out, under the patch `below` if there is one; `turns` turn lights; `signs` go on
    the Marks layer. Where there is no room (`laid` false) none of these is drawn, and `sheet`
    explains.
    """

    report: dict[str, object]
    laid: bool
    strips: tuple[LaidStrip, ...]
    patches: tuple[LaidPatch, ...]
    turns: Mapping[str, tuple[Point, float]]
    removed: frozenset[str]
    below: str | None
    signs: tuple[Group, ...]
    sheet: Sheet | None
    select: tuple[str, ...]
    summary: str
    message: str


def lay_tape(drawing: Drawing, profile: Profile, wish: Wish, replace: bool, clock: Clock) -> Routed:
    """Route the tape of a drawing; `replace` takes up what an earlier run laid."""
    case = case_of(drawing, profile)
    removed = made_by(_tape(drawing), ACTION) if replace else frozenset()
    before = case_of(with_tape(drawing, (), {}, removed), profile) if removed else case
    lacking = [*missing(before, "base", "lights", "power"), *power_missing.check(before)]
    found = check_all(before)
    lacking = lacking or [f for f in found if f.rule in BEFORE and f.severity == "stop"]
    if lacking:
        return _told_why(drawing, case, in_order(lacking), ())
    locked = frozenset(p.id for p in drawing.parts if p.attributes.get("turn") == "locked")
    result = route(board_of(before, wish, locked), clock)
    if isinstance(result, Refusal):
        told = refused(case, result)
        return _told_why(drawing, case, told.findings, told.necks)
    strips, patches, turns = _strips(result), _patches(result), _turns(before, result)
    below = paper_over_rim(before)
    laid = laying_order(strips, patches)
    after = case_of(with_tape(drawing, laid, turns, removed, below), profile)
    had, found = found, check_all(after)
    new = _new(had, found)
    if new:
        return _told_why(drawing, case, spoilt(new), ())
    return _laid(drawing, after, found, result, (strips, patches), turns, removed, below)


def _tape(drawing: Drawing) -> dict[str, Shape]:
    return {shape.id: shape for shape in drawing.shapes if shape.role == "tape"}


def _new(before: Sequence[Finding], after: Sequence[Finding]) -> list[Finding]:
    """Findings about tape, notes left out, of which there are more than before."""
    left = [f.rule for f in before if f.severity != "note"]
    new = []
    for finding in after:
        if finding.rule not in TAPE_RULES or finding.severity == "note":
            continue
        if finding.rule in left:
            left.remove(finding.rule)
        else:
            new.append(finding)
    return new


def _strips(layout: Layout) -> tuple[LaidStrip, ...]:
    """The strips with their names: P1, P2, ... M1, M2, ... in laying order."""
    counts = {"positive": 0, "negative": 0}
    found = []
    for strip in layout.strips:
        counts[strip.polarity] += 1
        name = f"{'P' if strip.polarity == 'positive' else 'M'}{counts[strip.polarity]}"
        points = tuple((round(x, 4), round(y, 4)) for x, y in strip.points)
        found.append(LaidStrip(name, points, strip.width, strip.polarity, strip.joint))
    return tuple(found)


def _patches(layout: Layout) -> tuple[LaidPatch, ...]:
    found = enumerate(layout.patches, 1)
    return tuple(LaidPatch(f"paper{k}", patch.corners, patch.before) for k, patch in found)


def _turns(case: Case, layout: Layout) -> dict[str, tuple[Point, float]]:
    """How far each light turns from where it is (degrees within half a turn)."""
    turns = {}
    for light in case.card.lights:
        wanted = layout.angles.get(light.id)
        if wanted is not None:
            by = (wanted - angle_of(light) + 180.0) % 360.0 - 180.0
            if abs(by) > 1e-6:
                turns[light.id] = (light.at, by)
    return turns


def _laid(
    drawing: Drawing,
    case: Case,
    findings: Sequence[Finding],
    layout: Layout,
    tape: tuple[tuple[LaidStrip, ...], tuple[LaidPatch, ...]],
    turns: Mapping[str, tuple[Point, float]],
    removed: frozenset[str],
    below: str | None,
) -> Routed:
    strips, patches = tape
    report = build_report("route", drawing.name, case, findings, (), None)
    report["routing"] = _figures(layout, turns, case, len(strips))
    words = _words(case, layout, turns, len(strips))
    return Routed(
        report=report,
        laid=True,
        strips=strips,
        patches=patches,
        turns=turns,
        removed=removed,
        below=below,
        signs=sign_groups(_signed(case), shapely.union_all([p.body for p in case.bodies])),
        sheet=None,
        select=(),
        summary=words,
        message=words,
    )


def _signed(case: Case) -> list[Signed]:
    """Every strip of a known side, numbered in laying order."""
    counts = {"positive": 0, "negative": 0}
    found = []
    for conductor, sign in zip(case.circuit.conductors, case.signs, strict=True):
        if conductor.strip is not None and sign is not None:
            counts[sign] += 1
            name = f"{'P' if sign == 'positive' else 'M'}{counts[sign]}"
            found.append(Signed(conductor.strip, sign, name))
    return found


def _words(case: Case, layout: Layout, turns: Mapping[str, tuple[Point, float]], laid: int) -> str:
    """Plus: 2 strips, 310 mm. Minus: 2 strips, 295 mm. Closest place 3.1 mm."""
    lines = []
    signed = _signed(case)
    for sign, word in (("positive", "Plus"), ("negative", "Minus")):
        own = [one.strip for one in signed if one.sign == sign]
        length = sum(strip.length for strip in own)
        lines.append(f"{word}: {count(len(own), 'strip', 'strips')}, {length:.0f} mm.")
    gap = build_gap(case)
    if gap is not None:
        lines.append(f"Closest place {mm(gap)}.")
    words = [" ".join(lines)]
    if layout.patches:
        words.append(_over_paper(case, layout))
    if turns:
        words.append(f"I turned {count(len(turns), 'light', 'lights')}.")
    stayed = len(case.card.strips) - laid
    if stayed:
        verb = "stays" if stayed == 1 else "stay"
        words.append(f"Your own {count(stayed, 'strip', 'strips')} {verb} as drawn.")
    if layout.under_aims:
        words.append(_tight(layout))
    if layout.ended:
        words.append("I stopped when the time was up; with more time it may become shorter.")
    words.append("Next: validate the card.")
    return "\n".join(words)


def _over_paper(case: Case, layout: Layout) -> str:
    """Where plus and minus cross, and what lies between."""
    signed = sorted(_signed(case), key=lambda one: one.strip.order)
    told = []
    for patch in layout.patches:
        spot = shapely.Polygon(patch.corners).centroid
        here = [one.name for one in signed if one.strip.geometry.contains(spot)]
        told.append(f"{here[-1]} over {here[0]}")
    where = count(len(told), "place", "places")
    return (
        f"In {where} one strip crosses the other ({', '.join(told)}): stick the paper tape on the "
        "lower strip before you lay the upper one."
    )


def build_gap(case: Case) -> float | None:
    """The smallest gap between plus and minus (mm), None where there is none."""
    from ..connectivity.gaps import smallest_gap

    return smallest_gap(case.circuit, case.card, case.signs)


def _tight(layout: Layout) -> str:
    """The tightest place under an aim, and how many there are."""
    first = min(layout.under_aims, key=lambda place: (place.have / max(place.aim, 1e-9), place.at))
    what = {
        "gap": "Plus and minus are",
        "edge": "Tape is",
        "pad": "Tape under a foot is",
        "joint": "An overlap is",
    }[first.what]
    if first.what in {"gap", "edge"}:
        kind = "apart" if first.what == "gap" else "from the edge"
        told = f"{what} {mm(first.have)} {kind} in the tightest place; I aim at {mm(first.aim)}."
    else:
        told = f"{what} {figure(100 * first.have / first.aim)} % of what I aim at."
    more = len(layout.under_aims) - 1
    return told + (f" ({more} more such {'place' if more == 1 else 'places'}.)" if more else "")


def _figures(
    layout: Layout, turns: Mapping[str, tuple[Point, float]], case: Case, laid: int
) -> dict[str, object]:
    figures = layout.figures
    return {
        "laid": True,
        "length": rounded(figures.length),
        "pieces": figures.pieces,
        "runs": figures.runs,
        "folds": figures.folds,
        "joints": dict(figures.joints),
        "reference": rounded(figures.reference),
        "ratio": rounded(figures.ratio),
        "under_aims": [
            {
                "what": place.what,
                "at": [rounded(place.at[0]), rounded(place.at[1])],
                "have": rounded(place.have),
                "aim": rounded(place.aim),
            }
            for place in layout.under_aims
        ],
        "turned": {name: rounded(by) for name, (_, by) in turns.items()},
        "pinned": len(case.card.strips) - laid,
        "patches": [
            [[rounded(x), rounded(y)] for x, y in patch.corners] for patch in layout.patches
        ],
        "ended": layout.ended,
        "no_room": [],
    }


def _told_why(
    drawing: Drawing,
    case: Case,
    findings: tuple[Finding, ...],
    necks: Sequence[Mapping[str, object]],
) -> Routed:
    """Nothing is laid: findings, marks and words of why."""
    report = build_report("route", drawing.name, case, findings, (), None)
    report["routing"] = {"laid": False, "no_room": list(necks)}
    first = findings[0]
    words = f"I changed nothing. {first.message} {first.remedy}"
    sheet = findings_sheet(drawing.page, extent_of(drawing), findings, (), "", "not-ready", HEADING)
    return Routed(
        report=report,
        laid=False,
        strips=(),
        patches=(),
        turns={},
        removed=frozenset(),
        below=None,
        signs=(),
        sheet=sheet,
        select=first.objects,
        summary="\n".join((words, *finding_lines(findings))),
        message=words,
    )
