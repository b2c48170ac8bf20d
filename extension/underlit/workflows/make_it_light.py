"""Make it light: what the whole way says and reports, and where a battery is tried."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from ..language import later, say, say_count
from ..model.card import Panel
from ..placement.power_data import Point
from ..records import record

ACTION = "make_it_light"

#: Where a battery is tried first, as shares of the panel's width and height: below the picture,
#: where a thumb presses without hiding what shines, then in the corners, then anywhere.
SPOTS = ((0.5, 0.82), (0.82, 0.85), (0.18, 0.85), (0.5, 0.18), (0.5, 0.5))

#: The keys that a step's report may add to that of the whole way.
OWN_KEYS = ("preparation", "placement", "routing", "glow", "stack")

#: How the steps are called in the closing words and the report.
PREPARE, LIGHTS, POWER, TAPE, CHECK, GLOW = (
    "prepare",
    "place-lights",
    "place-power",
    "route",
    "validate",
    "preview",
)

#: How far the way got, by the step that stopped it.
GOT_THERE = {
    PREPARE: later("I could not begin."),
    LIGHTS: later("The drawing is ready to work on, but no light is placed."),
    POWER: later("The lights are placed, but not the battery."),
    TAPE: later("Lights and battery are placed, but the tape is not laid."),
    GLOW: later("Everything is placed, but there is no glow to show."),
}

HIDE = later(
    "The picture lies on the layer Glow: hide that layer to see the tape, numbered as it is laid."
)
PICTURE = later("The picture on the layer Glow shows it as if all lights burned.")
NEXT = later("Next: print the making sheet (7), or write cutter files (8).")

#: What a single step says that could not be done.
NOTHING = (later("Nothing was changed."), later("I changed nothing."))


@record
class Step:
    """One step of the way: which, whether it did its work, what it said and reported."""

    name: str
    done: bool
    words: str
    report: Mapping[str, object]


@record
class MadeLight:
    """What the whole way gives. `untouched`: it could not begin, the drawing stays as it was."""

    report: dict[str, object]
    untouched: bool
    select: tuple[str, ...]
    summary: str
    message: str


def spots(panels: Sequence[Panel]) -> tuple[Point, ...]:
    """Places (page mm) to try the battery at, best first; on the largest panel."""
    largest = max(panels, key=lambda panel: panel.outline.area)
    x0, y0, x1, y1 = largest.outline.bounds
    return tuple((x0 + u * (x1 - x0), y0 + v * (y1 - y0)) for u, v in SPOTS)


def far_from(tried: Sequence[Point], at: Point, least: float) -> bool:
    """Whether a place is at least so far (mm) from all that were tried."""
    return all(float(np.hypot(at[0] - x, at[1] - y)) >= least for x, y in tried)


def nearest_of(report: Mapping[str, object]) -> Point | None:
    """Where nearest a battery would fit, as the report of placing it says."""
    placement = report["placement"]
    assert isinstance(placement, dict)
    at = placement.get("nearest")
    return None if at is None else (at[0], at[1])


def outcome(steps: Sequence[Step], lantern: bool, untouched: bool) -> MadeLight:
    """The report and the closing words of all steps that were gone."""
    last = next(step for step in reversed(steps) if step.name != GLOW)
    report = {**last.report, "action": ACTION}
    for step in steps:
        report.update({key: step.report[key] for key in OWN_KEYS if key in step.report})
    report["placement"] = {
        step.name: step.report["placement"] for step in steps if "placement" in step.report
    }
    report["steps"] = [{"step": step.name, "done": step.done} for step in steps]
    words = "\n".join(_words(steps, lantern))
    return MadeLight(report=report, untouched=untouched, select=(), summary=words, message=words)


def _words(steps: Sequence[Step], lantern: bool) -> list[str]:
    """First whether it glows, then what stopped the way or stays doubtful, then what is next."""
    by_name = {step.name: step for step in steps}
    stop = next((step for step in steps if not step.done), None)
    lines = [_first(by_name, stop)]
    if lantern:
        lines.append(say("The page was empty, so I put in a lantern to try it with."))
    lines += [_own(step.words) for step in steps if _is_told(step, stop)]
    if GLOW in by_name:
        lines.append(say(HIDE) if stop is None else say(PICTURE))
    if stop is None:
        lines.append(say(NEXT))
    return lines


def _own(words: str) -> str:
    """What a step says, without that it changed nothing: the steps before it have."""
    for nothing in NOTHING:
        words = words.replace(say(nothing), "")
    return "\n".join(line.strip() for line in words.splitlines() if line.strip())


def _is_told(step: Step, stop: Step | None) -> bool:
    """Whether a step's own words belong into the closing words."""
    if step is stop or step.name == CHECK:
        return True
    preparation = step.report.get("preparation")
    doubtful = isinstance(preparation, dict) and bool(preparation["hints"])
    return doubtful or (step.name == LIGHTS and bool(step.report.get("findings")))


def _first(by_name: Mapping[str, Step], stop: Step | None) -> str:
    if stop is None:
        windows = _lit_windows(by_name[GLOW].report)
        return say_count(
            "Your card glows: {number} window lit.",
            "Your card glows: {number} windows lit.",
            windows,
        )
    return say(GOT_THERE[stop.name])


def _lit_windows(report: Mapping[str, object]) -> int:
    glow = report["glow"]
    assert isinstance(glow, dict)
    return sum(bool(window["lights"]) for window in glow["openings"])
