"""Validate: read a drawing, judge it, say it in words and marks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from ..connectivity import read_circuit
from ..glow.unevenness import uneven_glow
from ..interpretation.card import Reading, read_card
from ..language import say
from ..markup.findings import Sheet, findings_sheet
from ..model.case import Case, Facts
from ..model.drawing import Drawing
from ..model.finding import Finding
from ..profiles import Profile
from ..records import record
from ..rules import check_all
from .accepting import split_accepted, to_remember
from .report import build_report
from .stacking import depth_words, stack_report
from .telling import CHECKED, closing_message, glow_words, shell_summary

#: What lies further off the page does not push the legend away (mm).
STRAY = 500.0


@record
class Validation:
    """What validating a drawing gives.

    `report` is the JSON object; `sheet` what to draw on the Findings layer and `remember`
    what to keep there; `select` the ids of the first fault's objects; `summary` plain text
    for a shell, `message` the closing words in the editor.
    """

    report: dict[str, object]
    sheet: Sheet
    remember: Mapping[str, str]
    select: tuple[str, ...]
    summary: str
    message: str


def validate(drawing: Drawing, profile: Profile, checked: str = CHECKED) -> Validation:
    """Check the whole card; `checked` as in `closing_message`."""
    case = case_of(drawing, profile)
    findings, accepted = split_accepted(check_all(case), case.card, drawing.remembered)
    verdict = verdict_of(findings)
    extent, advice = extent_of(drawing), say(CHECKED)
    sheet = findings_sheet(drawing.page, extent, findings, accepted, advice, verdict)
    return Validation(
        report={
            **build_report("validate", drawing.name, case, findings, accepted, verdict),
            "stack": stack_report(case),
        },
        sheet=sheet,
        remember=to_remember(case.card, drawing.remembered),
        select=_select(findings),
        summary=shell_summary(case, findings, accepted, verdict),
        message=closing_message(
            findings, accepted, verdict, glow_words(case), depth_words(case), checked
        ),
    )


def case_of(drawing: Drawing, profile: Profile) -> Case:
    """A drawing read and wired up, ready to be judged."""
    return make_case(drawing, read_card(drawing, profile.tape.corners), profile)


def make_case(drawing: Drawing, reading: Reading, profile: Profile) -> Case:
    """A card that was read from a drawing, wired up."""
    circuit = read_circuit(reading.card, profile.tape.adhesive_conducts)
    supply = None
    if reading.card.cells and reading.card.lights:
        from ..electrical import can_compute, supply_of  # late: not every card has a battery yet

        if can_compute(reading.card):
            supply = supply_of(reading.card, circuit, profile)
    return Case(reading.card, circuit, profile, _facts(drawing, reading), uneven_glow, supply)


def verdict_of(findings: Sequence[Finding]) -> str:
    """ready | ready-with-cautions | not-ready; notes never count."""
    severities = {finding.severity for finding in findings}
    if "stop" in severities:
        return "not-ready"
    return "ready-with-cautions" if "caution" in severities else "ready"


def _facts(drawing: Drawing, reading: Reading) -> Facts:
    drawn = [shape for shape in drawing.shapes if shape.attributes.get("part") != "patch"]
    used = {shape.role for shape in drawn} | {part.role for part in drawing.parts}
    used |= {
        remark.role for remark in drawing.remarks if remark.kind not in {"hidden", "unpainted"}
    }
    return Facts(
        incomplete=reading.parts.incomplete,
        strays=reading.parts.strays,
        sketches=reading.tape.sketches,
        remarks=drawing.remarks + reading.parts.hidden,
        layers=drawing.layers,
        found=reading.findings,
        used=frozenset(used),
    )


def extent_of(drawing: Drawing) -> tuple[float, float, float, float]:
    """Bounds of the page and of all that is drawn, strays far off the page left out (mm)."""
    width, height = drawing.page.width, drawing.page.height
    low, high = np.array([0.0, 0.0]), np.array([width, height])
    points = [c.points for shape in drawing.shapes for c in shape.contours if len(c.points)]
    if points:
        everything = np.concatenate(points)
        low = np.maximum(np.minimum(low, everything.min(axis=0)), low - STRAY)
        high = np.minimum(np.maximum(high, everything.max(axis=0)), high + STRAY)
    return (float(low[0]), float(low[1]), float(high[0]), float(high[1]))


def _select(findings: Sequence[Finding]) -> tuple[str, ...]:
    """Ids of the objects of the first fault that names any (openings by their object)."""
    for finding in findings:
        if finding.objects and finding.severity != "note":
            return tuple(dict.fromkeys(name.split("#")[0] for name in finding.objects))
    return ()
