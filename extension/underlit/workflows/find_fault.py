"""Find the fault: from the lights that misbehave to the places to press, part or bridge."""

from __future__ import annotations

from collections.abc import Sequence

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

HEADING = "Look here first"

ADVICE = (
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
    sheet = findings_sheet(
        drawing.page, extent_of(drawing), findings, (), ADVICE, "ready-with-cautions", HEADING
    )
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
            return (
                f"{_no_light(case, unlit)} shine as drawn: run Validate my card first and "
                f"mend what it marks."
            )
        return "Nothing in the drawing explains this: try another battery first."
    first = findings[0]
    lines = [f"{first.message} {first.remedy}"]
    if len(findings) > 1:
        lines.append(f"{len(findings)} places are numbered on the drawing, the likeliest first.")
    return "\n".join(lines)


def _line(number: int, finding: Finding) -> str:
    x, y = finding.at or (0.0, 0.0)
    return f"{number:3d}. at {x:.1f}, {y:.1f} mm: {finding.message} {finding.remedy}"


def _findings(case: Case, suspect: Suspect) -> list[Finding]:
    places = list(zip(suspect.kinds, suspect.places, suspect.objects, strict=True))[:PLACES]
    who = _lights(case, suspect.lights)
    return [
        Finding(CODE, "caution", at, objects, *_told(case, kind, objects, who))
        for kind, at, objects in places
    ]


def _no_light(case: Case, names: Sequence[str]) -> str:
    """Light 4 cannot | Lights 3 and 4 cannot | No light can."""
    who = _lights(case, names)
    return "No light can" if who == "All lights" else f"{who} cannot"


def _lights(case: Case, names: Sequence[str] | frozenset[str]) -> str:
    """Light 4 | Lights 3 and 4 | All lights."""
    wanted = [light for light in case.card.lights if light.id in set(names)]
    if len(wanted) == len(case.card.lights) > 1:
        return "All lights"
    numbers = [case.call(light).rpartition(" ")[2] for light in wanted]
    if not numbers:
        return "A light that is not whole"
    if len(numbers) == 1:
        return f"Light {numbers[0]}"
    return f"Lights {', '.join(numbers[:-1])} and {numbers[-1]}"


def _told(case: Case, kind: str, objects: Sequence[str], who: str) -> tuple[str, str]:
    """What may be wrong at a place, and what to do."""
    parts = {part.id: part for part in case.card.parts}
    name = case.inner(parts[objects[0]]) if objects[0] in parts else ""
    low = who[0].lower() + who[1:]
    hang = "hangs" if who.startswith("Light ") else "hang"
    more = "" if low == name else f": {low} {hang} on it"
    return {
        "overlap": (
            f"{who} {hang} on this overlap.",
            "Press it hard with a bone folder. If that helps, lay a short strip across it.",
        ),
        "foot": (
            f"This foot of {name} may not touch its tape{more}.",
            "Press the foot down. If that helps, put a small piece of tape over foot and strip.",
        ),
        "battery-foot": (
            f"The tape may not touch this foot of {name}: {low} {hang} on it.",
            "Press the tape against the battery. Look whether the battery sits flat and clean.",
        ),
        "touch": (
            "Plus and minus come closest here and may touch.",
            "Look along the gap with a lamp; part them with a blade, or slip paper between.",
        ),
        "strip": (
            f"{who} {hang} on this stretch of tape: it may be cracked, most likely at a fold.",
            "Bend the card gently here. If the light comes and goes, lay a second strip over it.",
        ),
        "light": (
            f"{name[0].upper()}{name[1:]} itself may be dead or the wrong way round.",
            "Hold a loose light on the same two strips: if that one shines, change this one.",
        )
        if name
        else ("", ""),
        "battery": (
            "The battery may be empty, or lie the wrong way round.",
            "Try a new one, plus side as drawn.",
        ),
        "held": (
            f"{name[0].upper()}{name[1:]} may be closed all the time." if name else "",
            "Is the foam thick enough, does the flap spring back? Slip paper between and see.",
        ),
        "bridge": (
            "Something may bridge the switch here.",
            "Look for a hair of tape between the two strips and cut it away.",
        ),
    }[kind]


def _figures(suspect: Suspect) -> dict[str, object]:
    return {
        "kinds": list(suspect.kinds),
        "places": [[rounded(x), rounded(y)] for x, y in suspect.places],
        "objects": [list(objects) for objects in suspect.objects],
        "lights": sorted(suspect.lights),
        "score": rounded(suspect.score),
    }
