"""The closing words: in the editor a few sentences, in a shell a short list."""

from __future__ import annotations

from collections.abc import Sequence

from ..model.case import LIT, Case
from ..model.finding import Finding, to_come
from ..model.operation import AGED, MINUTE, LightFlow
from ..rules.amps import glow_word, ma
from ..rules.wording import count, span, two_digits
from .stacking import depth_words

CHECKED = (
    "I checked outlines, gaps, overlaps, the feet of every light, edges, windows, folds and the "
    "battery, and estimated how bright each light will be and for how long.\n"
    "Not checked: the weight, and whether your own foam is as thick as the one named here.\n"
    "Nobody can check from a drawing how well the tape sticks: test each step with the battery "
    "before you peel the next."
)

HEADINGS = {
    "ready": "Circuit ready.",
    "ready-with-cautions": "Ready, with cautions.",
    "not-ready": "Not ready yet.",
}


def tally(findings: Sequence[Finding]) -> str:
    """2 faults to mend and 1 caution."""
    coming = sum(map(to_come, findings))
    stops = sum(finding.severity == "stop" for finding in findings) - coming
    cautions = sum(finding.severity == "caution" for finding in findings)
    words = []
    if stops:
        words.append(count(stops, "fault to mend", "faults to mend"))
    if coming:
        words.append(count(coming, "thing still to come", "things still to come"))
    if cautions:
        words.append(count(cautions, "caution", "cautions"))
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def glow_words(case: Case) -> str:
    """How bright and for how long, words before figures: "" where nothing could be computed.

    Of the card as drawn, as in the report: a short darkens it.
    """
    if not case.fed or case.drawn_operation is None:
        return ""
    flows = [case.drawn_operation.lights[light.id] for light, _ in case.fed]
    least = case.profile.limits.light_smallest_ma
    words = [glow_word(flow.amps[MINUTE], least) for flow in flows]
    counts = [
        f"{count(words.count(word), 'light', 'lights')} {word}"
        for word in ("bright", "fine", "faint", "dark")
        if word in words
    ]
    drawn = ", as drawn" if case.circuit.shorts else ""
    text = f"Estimate{drawn}: {', '.join(counts)}"
    glowing = [flow for flow, word in zip(flows, words, strict=True) if word != "dark"]
    if not glowing:
        return f"{text}."
    each = "each " if len(glowing) > 1 else ""
    bands = case.drawn_operation.band(_outermost(case, glowing)).values()
    low, high = min(band[0] for band in bands), max(band[1] for band in bands)
    text += f" ({each}{ma(low)} to {ma(high)} mA after a minute)"
    return f"{text}{_lasting(case)}.{_aged(glowing)}"


def _aged(glowing: Sequence[LightFlow]) -> str:
    """Of lights that glow now, how many no longer do when battery and overlaps have aged."""
    gone = sum(flow.amps[AGED] <= LIT for flow in glowing)
    if not gone:
        return ""
    which = f"{gone} of them" if gone < len(glowing) else "all" if gone > 1 else "it"
    stays = "stay" if gone > 1 else "stays"
    return f" Once the battery and the overlaps have aged, {which} {stays} dark."


def _outermost(case: Case, flows: Sequence[LightFlow]) -> set[str]:
    """The dimmest and the brightest light of each type: the band of all reaches from theirs."""
    kinds = {light.id: light.type for light in case.card.lights}
    order = sorted(flows, key=lambda flow: flow.amps[MINUTE])
    dimmest = {kinds[flow.id]: flow.id for flow in reversed(order)}
    brightest = {kinds[flow.id]: flow.id for flow in order}
    return {*dimmest.values(), *brightest.values()}


def _lasting(case: Case) -> str:
    """, 17 to 70 hours of light, or 4200 to 25000 presses of 10 seconds: until one is flat."""
    flows = case.drawn_operation.cells.values() if case.drawn_operation is not None else ()
    hours = [flow.hours for flow in flows if flow.hours is not None]
    presses = [flow.presses for flow in flows if flow.presses is not None]
    if not hours:
        return ""
    words = f", {span(*_lower(hours))} of light"
    closing = (*case.card.cells, *case.card.switches)
    if not any(part.attributes.get("closes", "press") == "press" for part in closing):
        return words
    low, high = (two_digits(number) for number in _lower(presses))
    return f"{words}, or {low} to {high} presses of 10 seconds"


def _lower(bands: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return min(band[0] for band in bands), min(band[1] for band in bands)


def closing_message(
    findings: Sequence[Finding],
    accepted: Sequence[Finding],
    verdict: str,
    glow: str = "",
    depth: str = "",
    checked: str = CHECKED,
) -> str:
    """What the editor says when the action has finished.

    `glow` and `depth` are those of `glow_words` and `depth_words`; `checked`: what a card without
    a fault was checked for ("" leaves it out).
    """
    lines = [HEADINGS[verdict]]
    faults = [finding for finding in findings if finding.severity != "note"]
    if faults:
        first = faults[0]
        lines[0] += f" {tally(findings)[0].upper()}{tally(findings)[1:]}, marked on the drawing."
        lines.append(f"First: {first.message} {first.remedy}")
    elif checked:
        lines.append(checked)
    lines += [words for words in (glow, depth) if words]
    if accepted:
        lines.append(f"Accepted by you: {len(accepted)}.")
    if any(finding.rule == "coin-cell" for finding in findings):
        lines.append("Keep coin batteries away from children.")
    return "\n".join(lines)


def shell_summary(
    case: Case, findings: Sequence[Finding], accepted: Sequence[Finding], verdict: str
) -> str:
    """A short plain list for a shell."""
    card = case.card
    heading = HEADINGS[verdict]
    if tally(findings):
        heading = f"{heading} {tally(findings)}."
    lines = [
        heading,
        f"{count(len(card.lights), 'light', 'lights')} ({len(case.lit)} lit), "
        f"{count(len(card.openings), 'window', 'windows')}, "
        f"{count(len(card.strips), 'strip of tape', 'strips of tape')}.",
    ]
    glow = glow_words(case)
    lines += [words for words in (glow, depth_words(case)) if words]
    lines += finding_lines(findings)
    if accepted:
        lines.append(f"Accepted by you: {len(accepted)}.")
    return "\n".join(lines)


#: Of one kind of finding a shell lists so many; a pattern may have a thousand.
MOST_ALIKE = 12


def finding_lines(findings: Sequence[Finding]) -> list[str]:
    """Findings in a shell, numbered as on the drawing; many of one kind are cut short."""
    alike: dict[str, list[int]] = {}
    lines = []
    for number, finding in enumerate(findings, 1):
        numbers = alike.setdefault(finding.rule, [])
        numbers.append(number)
        if len(numbers) <= MOST_ALIKE:
            lines.append(_finding_line(number, finding))
    for numbers in alike.values():
        if len(numbers) > MOST_ALIKE:
            more = len(numbers) - MOST_ALIKE
            lines.append(f"     ... and {more} more like number {numbers[MOST_ALIKE - 1]}.")
    return lines


def _finding_line(number: int, finding: Finding) -> str:
    place = f" at {finding.at[0]:.1f}, {finding.at[1]:.1f} mm" if finding.at else ""
    return f"{number:3d}. {finding.severity}{place}: {finding.message} {finding.remedy}"
