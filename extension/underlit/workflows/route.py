"""Lay the tape: route both sides, check the result as any card, say it; or say where no room is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import shapely

from ..language import later, say
from ..markup.findings import findings_sheet
from ..markup.primitives import Group, Sheet, Text
from ..markup.signs import sign_groups
from ..model.card import Card
from ..model.case import Case
from ..model.drawing import Drawing, Shape
from ..model.finding import Finding
from ..profiles import Profile
from ..records import record
from ..routing import Clock, Layout, Refusal, Task, route
from ..rules import check_all, in_order, power_missing
from ..rules.layer_missing import missing
from .board import Wish, board_of, made_by, paper_over_rim
from .flaps import landing_obstacles
from .laid import figures_of, signed_strips, words_of
from .laying import LaidPatch, LaidStrip, Point, laying_order, with_tape
from .no_way import Told, refused, spoilt
from .part_areas import angle_of
from .report import build_report
from .telling import finding_lines
from .validate import case_of, extent_of
from .windows import window_numbers

ACTION = "route_tape"

HEADING = later("No room for the tape")

#: The heading where laying has not begun.
FIRST = later("Before the tape can be laid")

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
    the Marks layer, and `numbers` of windows (by name) where no tape hides them; words beside a
    battery keep clear of what is on the `card`. Where there is no room (`laid` false) none of these
    is drawn, and `sheet` explains.
    """

    report: dict[str, object]
    laid: bool
    strips: tuple[LaidStrip, ...]
    patches: tuple[LaidPatch, ...]
    turns: Mapping[str, tuple[Point, float]]
    removed: frozenset[str]
    below: str | None
    signs: tuple[Group, ...]
    numbers: tuple[tuple[str, Text], ...]
    card: Card
    sheet: Sheet | None
    select: tuple[str, ...]
    summary: str
    message: str


def lay_tape(drawing: Drawing, profile: Profile, wish: Wish, anew: bool, clock: Clock) -> Routed:
    """Route the tape of a drawing; `anew` takes up what an earlier run laid."""
    case = case_of(drawing, profile)
    removed = made_by(_tape(drawing), ACTION) if anew else frozenset()
    before = case_of(with_tape(drawing, (), {}, removed), profile) if removed else case
    lacking = [*missing(before, "base", "lights", "power"), *power_missing.check(before)]
    had = check_all(before)
    lacking = lacking or [f for f in had if f.rule in BEFORE and f.severity == "stop"]
    if lacking:
        return _told_why(drawing, case, Told(in_order(lacking)), FIRST)
    locked = frozenset(p.id for p in drawing.parts if p.attributes.get("turn") == "locked")
    task = board_of(before, wish, locked)
    tried = _tried(drawing, before, had, task, removed, clock)
    if isinstance(tried, _Checked) and any(f.rule == "folded-touch" for f in tried.new):
        kept_off = replace(task, obstacles=(*task.obstacles, *landing_obstacles(tried.after)))
        again = _tried(drawing, before, had, kept_off, removed, clock)
        tried = again if isinstance(again, _Checked) and not again.new else tried
    if isinstance(tried, Refusal):
        told = refused(case, tried)
        return _told_why(drawing, case, told)
    if tried.new:
        return _told_why(drawing, case, Told(spoilt(tried.new)))
    return _laid(drawing, tried, removed, paper_over_rim(before))


@record
class _Checked:
    """A layout with the card as it will be, all findings on that, and the new ones about tape."""

    layout: Layout
    strips: tuple[LaidStrip, ...]
    patches: tuple[LaidPatch, ...]
    turns: Mapping[str, tuple[Point, float]]
    after: Case
    findings: tuple[Finding, ...]
    new: tuple[Finding, ...]


def _tried(
    drawing: Drawing,
    before: Case,
    had: Sequence[Finding],
    task: Task,
    removed: frozenset[str],
    clock: Clock,
) -> _Checked | Refusal:
    """Route a task, and check what that gives as any card."""
    result = route(task, clock)
    if isinstance(result, Refusal):
        return result
    strips, patches, turns = _strips(result), _patches(result), _turns(before, result)
    laid = laying_order(strips, patches)
    after = case_of(
        with_tape(drawing, laid, turns, removed, paper_over_rim(before)), before.profile
    )
    found = check_all(after)
    new = [f for f in _new(had, found) if not _hers(f, before)]
    return _Checked(result, strips, patches, turns, after, tuple(found), tuple(new))


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


def _hers(finding: Finding, before: Case) -> bool:
    """Whether two of the maker's own strips lie close, told only now that both lead somewhere."""
    own = {strip.name for strip in before.card.strips}
    close = finding.rule == "gap-too-small" and finding.severity == "caution"
    return close and own.issuperset(finding.objects)


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
    drawing: Drawing, checked: _Checked, removed: frozenset[str], below: str | None
) -> Routed:
    """What is drawn of a layout, and what is said."""
    case, layout, turns = checked.after, checked.layout, checked.turns
    strips, patches, findings = checked.strips, checked.patches, checked.findings
    report = build_report("route", drawing.name, case, findings, (), None)
    report["routing"] = figures_of(layout, turns, case, len(strips))
    words = words_of(case, layout, turns, len(strips))
    return Routed(
        report=report,
        laid=True,
        strips=strips,
        patches=patches,
        turns=turns,
        removed=removed,
        below=below,
        signs=sign_groups(signed_strips(case), shapely.union_all([p.body for p in case.bodies])),
        numbers=window_numbers(case.card),
        card=case.card,
        sheet=None,
        select=(),
        summary=words,
        message=words,
    )


def _told_why(drawing: Drawing, case: Case, told: Told, heading: str = HEADING) -> Routed:
    """Nothing is laid: findings, marks and words of why."""
    findings = told.findings
    report = build_report("route", drawing.name, case, findings, (), None)
    report["routing"] = {"laid": False, "no_room": list(told.necks)}
    first = findings[0]
    nothing = say("I changed nothing.")
    words = f"{nothing} {first.message} {first.remedy}"
    extent = extent_of(drawing)
    sheet = findings_sheet(
        drawing.page, extent, findings, (), "", "not-ready", say(heading), told.narrow
    )
    return Routed(
        report=report,
        laid=False,
        strips=(),
        patches=(),
        turns={},
        removed=frozenset(),
        below=None,
        signs=(),
        numbers=(),
        card=case.card,
        sheet=sheet,
        select=first.objects,
        summary="\n".join((words, *finding_lines(findings))),
        message=words,
    )
