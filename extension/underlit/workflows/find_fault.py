"""Find the fault: from the lights that misbehave to the places to press, part or bridge."""

from __future__ import annotations

from collections.abc import Sequence

from ..language import begun, decimal, joined, later, say, say_count
from ..markup.findings import findings_sheet
from ..markup.primitives import Sheet
from ..model.case import Case
from ..model.drawing import Drawing
from ..model.finding import Finding
from ..profiles import Profile
from ..records import record
from ..tracing import Suspect, Symptoms, Wiring, find_suspects
from .report import build_report, rounded
from .validate import case_of, extent_of

CODE = "find-fault"

#: So many suspects are named, each with so many places.
SUSPECTS, PLACES = 3, 4

HEADING = later("Look here first")

ADVICE = later(
    "Begin with number 1 and try the lights after each step. Take the battery out before you part "
    "or bridge tape.\n"
    "These are the likeliest places by the drawing; nobody can see from a drawing how well "
    "tape sticks."
)


@record
class Tracing:
    """What finding a fault gives: see `validate.Validation`."""

    report: dict[str, object]
    sheet: Sheet
    select: tuple[str, ...]
    summary: str
    message: str


def find_fault(drawing: Drawing, profile: Profile, symptoms: Symptoms) -> Tracing:
    """Name the likeliest places for what the maker sees."""
    case = case_of(drawing, profile)
    wiring = Wiring(case.card, case.circuit)
    suspects = find_suspects(wiring, symptoms, profile.limits.smallest_gap)[:SUSPECTS]
    findings = [f for suspect in suspects for f in _findings(case, suspect)]
    extent, verdict = extent_of(drawing), "ready-with-cautions"
    sheet = findings_sheet(drawing.page, extent, findings, (), say(ADVICE), verdict, say(HEADING))
    report = build_report("find-fault", drawing.name, case, findings, (), None)
    report["suspects"] = [_figures(suspect) for suspect in suspects]
    words = _words(case, suspects, findings, symptoms)
    lines = (_line(number, finding) for number, finding in enumerate(findings, 1))
    return Tracing(
        report=report,
        sheet=sheet,
        select=findings[0].objects if findings else (),
        summary="\n".join((words, *lines)),
        message=words,
    )


def _words(
    case: Case, suspects: Sequence[Suspect], findings: Sequence[Finding], symptoms: Symptoms
) -> str:
    """Lights 3 and 4 share overlap 1. Press it."""
    if not findings:
        wrong = symptoms.dark | symptoms.flicker | symptoms.always
        unlit = sorted(name for name in wrong if name not in case.circuit.lit)
        if unlit:
            return _not_as_drawn(_lights(case, unlit))
        return say("Nothing in the drawing explains this: try another battery first.")
    first = findings[0]
    lines = [f"{first.message} {first.remedy}"]
    if len(findings) > 1:
        lines.append(
            say(
                "{number} places are numbered on the drawing, the likeliest first.",
                number=len(findings),
            )
        )
    return "\n".join(lines)


def _line(number: int, finding: Finding) -> str:
    x, y = (decimal(f"{value:.1f}") for value in finding.at or (0.0, 0.0))
    place = say("at {x}, {y} mm", x=x, y=y)
    return f"{number:3d}. {place}: {finding.message} {finding.remedy}"


def _findings(case: Case, suspect: Suspect) -> list[Finding]:
    places = list(zip(suspect.kinds, suspect.places, suspect.objects, strict=True))[:PLACES]
    who = _lights(case, suspect.lights)
    return [
        Finding(CODE, "caution", at, objects, *_told(case, kind, objects, who))
        for kind, at, objects in places
    ]


@record
class Lights:
    """The lights that misbehave in words: at a sentence's beginning, and inside one.

    `number`: how many that says, 1 or more; `all`: all of the card; `only`: the id of a single one.
    """

    first: str
    inner: str
    number: int
    all: bool = False
    only: str | None = None


def _not_as_drawn(who: Lights) -> str:
    """What is said of lights that could not shine even if all were well made."""
    if who.all:
        return say(
            "No light can shine as drawn: run Validate my card first and mend what it marks."
        )
    return say(
        "{lights} cannot shine as drawn: run Validate my card first and mend what it marks.",
        lights=who.first,
    )


def _lights(case: Case, names: Sequence[str] | frozenset[str]) -> Lights:
    """Light 4 | Lights 3 and 4 | All lights."""
    lights = case.card.lights
    wanted = [(n, light.id) for n, light in enumerate(lights, 1) if light.id in set(names)]
    if len(wanted) == len(lights) > 1:
        return Lights(say("All lights"), say("all lights"), len(lights), all=True)
    if not wanted:
        return Lights(say("A light that is not whole"), say("a light that is not whole"), 1)
    if len(wanted) == 1:
        number, name = wanted[0]
        return Lights(
            say("Light {number}", number=number), say("light {number}", number=number), 1, only=name
        )
    numbers = joined([str(number) for number, _ in wanted])
    return Lights(
        say("Lights {numbers}", numbers=numbers),
        say("lights {numbers}", numbers=numbers),
        len(wanted),
    )


#: What may be wrong at a kind of place, and what to do, where that does not depend on the lights.
TOLD = {
    "touch": (
        later("Plus and minus come closest here and may touch."),
        later("Look along the gap with a lamp; part them with a blade, or slip paper between."),
    ),
    "battery": (
        later("The battery may be empty, or lie the wrong way round."),
        later("Try a new one, plus side as drawn."),
    ),
    "bridge": (
        later("Something may bridge the switch here."),
        later("Look for a hair of tape between the two strips and cut it away."),
    ),
}


def _told(case: Case, kind: str, objects: Sequence[str], who: Lights) -> tuple[str, str]:
    """What may be wrong at a place, and what to do."""
    if kind in TOLD:
        message, remedy = TOLD[kind]
        return say(message), say(remedy)
    if kind in {"overlap", "strip"}:
        return _told_of_tape(kind, who)
    part = next(part for part in case.card.parts if part.id == objects[0])
    name = case.inner(part)
    if kind == "light":
        return (
            say("{light} itself may be dead or the wrong way round.", light=begun(name)),
            say("Hold a loose light on the same two strips: if that one shines, change this one."),
        )
    if kind == "held":
        return (
            say("{part} may be closed all the time.", part=begun(name)),
            say("Is the foam thick enough, does the flap spring back? Slip paper between and see."),
        )
    return _told_of_foot(kind, case.of(part), part.id, who)


def _told_of_tape(kind: str, who: Lights) -> tuple[str, str]:
    if kind == "overlap":
        return (
            say_count(
                "{lights} hangs on this overlap.",
                "{lights} hang on this overlap.",
                who.number,
                lights=who.first,
            ),
            say("Press it hard with a bone folder. If that helps, lay a short strip across it."),
        )
    return (
        say_count(
            "{lights} hangs on this stretch of tape: it may be cracked, most likely at a fold.",
            "{lights} hang on this stretch of tape: it may be cracked, most likely at a fold.",
            who.number,
            lights=who.first,
        ),
        say("Bend the card gently here. If the light comes and goes, lay a second strip over it."),
    )


def _told_of_foot(kind: str, own: str, part: str, who: Lights) -> tuple[str, str]:
    if kind == "battery-foot":
        return (
            say_count(
                "The tape may not touch this foot {of_part}: {lights} hangs on it.",
                "The tape may not touch this foot {of_part}: {lights} hang on it.",
                who.number,
                of_part=own,
                lights=who.inner,
            ),
            say(
                "Press the tape against the battery. Look whether the battery sits flat and clean."
            ),
        )
    remedy = say(
        "Press the foot down. If that helps, put a small piece of tape over foot and strip."
    )
    if who.only == part:
        return say("This foot {of_part} may not touch its tape.", of_part=own), remedy
    return (
        say_count(
            "This foot {of_part} may not touch its tape: {lights} hangs on it.",
            "This foot {of_part} may not touch its tape: {lights} hang on it.",
            who.number,
            of_part=own,
            lights=who.inner,
        ),
        remedy,
    )


def _figures(suspect: Suspect) -> dict[str, object]:
    return {
        "kinds": list(suspect.kinds),
        "places": [[rounded(x), rounded(y)] for x, y in suspect.places],
        "objects": [list(objects) for objects in suspect.objects],
        "lights": sorted(suspect.lights),
        "score": rounded(suspect.score),
    }
