"""The closing words: in the editor a few sentences, in a shell a short list."""

from __future__ import annotations

from collections.abc import Sequence

from ..language import decimal, joined, later, say, say_count, two_digits
from ..model.case import LIT, Case
from ..model.finding import Finding, to_come, told_once
from ..model.operation import AGED, MINUTE, LightFlow
from ..rules.amps import glow_word, ma
from ..rules.wording import span
from .stacking import depth_words

CHECKED = later(
    "I checked outlines, gaps, overlaps, the feet of every light, edges, windows, folds and the "
    "battery, and estimated how bright each light will be and for how long.\n"
    "Not checked: the weight, and whether your own foam is as thick as the one named here.\n"
    "Nobody can check from a drawing how well the tape sticks: test each step with the battery "
    "before you peel the next."
)

HEADINGS = {
    "ready": later("Circuit ready."),
    "ready-with-cautions": later("Ready, with cautions."),
    "not-ready": later("Not ready yet."),
}

#: Where the faults are to be seen: whether any of them has a place.
_WHERE = {
    True: later("{faults}, marked on the drawing."),
    False: later("{faults}, listed beside the page."),
}

SEVERITIES = {"stop": later("stop"), "caution": later("caution"), "note": later("note")}


def tally(findings: Sequence[Finding]) -> str:
    """2 faults to mend and 1 caution."""
    coming = sum(map(to_come, findings))
    stops = sum(finding.severity == "stop" for finding in findings) - coming
    cautions = sum(finding.severity == "caution" for finding in findings)
    words = []
    if stops:
        words.append(say_count("{number} fault to mend", "{number} faults to mend", stops))
    if coming:
        words.append(
            say_count("{number} thing still to come", "{number} things still to come", coming)
        )
    if cautions:
        words.append(say_count("{number} caution", "{number} cautions", cautions))
    return joined(words)


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
        _so_bright(word, words.count(word))
        for word in ("bright", "fine", "faint", "dark")
        if word in words
    ]
    lights = ", ".join(counts)
    text = say("Estimate: {lights}", lights=lights)
    if case.circuit.shorts:
        text = say("Estimate, as drawn: {lights}", lights=lights)
    glowing = [flow for flow, word in zip(flows, words, strict=True) if word != "dark"]
    if not glowing:
        return f"{text}."
    bands = case.drawn_operation.band(_outermost(case, glowing)).values()
    low, high = ma(min(band[0] for band in bands)), ma(max(band[1] for band in bands))
    current = say_count(
        "({low} to {high} mA after a minute)",
        "(each {low} to {high} mA after a minute)",
        len(glowing),
        low=low,
        high=high,
    )
    return f"{text} {current}{_lasting(case)}.{_aged(glowing)}"


def _so_bright(word: str, number: int) -> str:
    """So many lights that are bright, fine, faint or dark."""
    return {
        "bright": say_count("{number} light bright", "{number} lights bright", number),
        "fine": say_count("{number} light fine", "{number} lights fine", number),
        "faint": say_count("{number} light faint", "{number} lights faint", number),
        "dark": say_count("{number} light dark", "{number} lights dark", number),
    }[word]


def _aged(glowing: Sequence[LightFlow]) -> str:
    """Of lights that glow now, how many no longer do when battery and overlaps have aged."""
    gone = sum(flow.amps[AGED] <= LIT for flow in glowing)
    if not gone:
        return ""
    if gone < len(glowing):
        words = say_count(
            "Once the battery and the overlaps have aged, {number} of them stays dark.",
            "Once the battery and the overlaps have aged, {number} of them stay dark.",
            gone,
        )
    elif gone > 1:
        words = say("Once the battery and the overlaps have aged, all stay dark.")
    else:
        words = say("Once the battery and the overlaps have aged, it stays dark.")
    return f" {words}"


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
    lasting = span(*_lower(hours))
    closing = (*case.card.cells, *case.card.switches)
    if not any(part.attributes.get("closes", "press") == "press" for part in closing):
        return ", " + say("{hours} of light", hours=lasting)
    low, high = (two_digits(number) for number in _lower(presses))
    words = say(
        "{hours} of light, or {low} to {high} presses of 10 seconds",
        hours=lasting,
        low=low,
        high=high,
    )
    return f", {words}"


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
    lines = [say(HEADINGS[verdict])]
    faults = [finding for finding in findings if finding.severity != "note"]
    if faults:
        first, marked = _first(faults), any(fault.at is not None for fault in faults)
        lines[0] += " " + say(_WHERE[marked], faults=tally(findings))
        lines.append(say("First: {fault}", fault=f"{first.message} {first.remedy}"))
    elif checked:
        lines.append(say(checked))
    lines += [words for words in (glow, depth) if words]
    if accepted:
        lines.append(say("Accepted by you: {number}.", number=len(accepted)))
    if any(finding.rule == "coin-cell" for finding in findings):
        lines.append(say("Keep coin batteries away from children."))
    return "\n".join(lines)


def _first(faults: Sequence[Finding]) -> Finding:
    """What to begin with: of what is still to come the earliest step."""
    coming = [finding for finding in faults if to_come(finding)]
    return min(coming, key=lambda finding: finding.step) if faults[0] in coming else faults[0]


def shell_summary(
    case: Case, findings: Sequence[Finding], accepted: Sequence[Finding], verdict: str
) -> str:
    """A short plain list for a shell."""
    card = case.card
    heading = say(HEADINGS[verdict])
    if tally(findings):
        heading = f"{heading} {tally(findings)}."
    lines = [
        heading,
        say(
            "{lights} ({lit} lit), {windows}, {strips}.",
            lights=say_count("{number} light", "{number} lights", len(card.lights)),
            lit=len(case.lit),
            windows=say_count("{number} window", "{number} windows", len(card.openings)),
            strips=say_count("{number} strip of tape", "{number} strips of tape", len(card.strips)),
        ),
    ]
    glow = glow_words(case)
    lines += [words for words in (glow, depth_words(case)) if words]
    lines += finding_lines(findings)
    if accepted:
        lines.append(say("Accepted by you: {number}.", number=len(accepted)))
    return "\n".join(lines)


#: Of one kind of finding a shell lists so many; a pattern may have a thousand.
MOST_ALIKE = 12


def finding_lines(findings: Sequence[Finding]) -> list[str]:
    """Findings in a shell, numbered as on the drawing; many of one kind are cut short."""
    alike: dict[str, list[int]] = {}
    lines = []
    for number, finding in told_once(findings):
        numbers = alike.setdefault(finding.rule, [])
        numbers.append(number)
        if len(numbers) <= MOST_ALIKE:
            lines.append(_finding_line(number, finding))
    for numbers in alike.values():
        if len(numbers) > MOST_ALIKE:
            more, like = len(numbers) - MOST_ALIKE, numbers[MOST_ALIKE - 1]
            words = say("... and {more} more like number {number}.", more=more, number=like)
            lines.append(f"     {words}")
    return lines


def _finding_line(number: int, finding: Finding) -> str:
    head = say(SEVERITIES[finding.severity])
    if finding.at:
        x, y = (decimal(f"{value:.1f}") for value in finding.at)
        head = say("{what} at {x}, {y} mm", what=head, x=x, y=y)
    return f"{number:3d}. {head}: {finding.message} {finding.remedy}"
