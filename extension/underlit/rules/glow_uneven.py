"""glow-uneven: a lit window with a bright spot.

The darkest place of a window with a light behind it gets less than `evenness` (table `[glow]`) of
the light of its brightest; behind a diffuser, which spreads light sideways, `soft-evenness` passes.
Computed from direct light alone, for the spacer and the transmissions of the profile. The hot spot
is as wide as a disc of the area that gets more than half of the brightest. What is offered as a
cure was computed: it would do by itself. Proposed limits, no source; many like a bright spot.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import reduce

from ..language import begun, figure, mm, say
from ..model.case import Case
from ..model.finding import Finding, Together
from ..model.glow import Cure, WindowGlow
from .wording import numbers

CODE = "glow-uneven"

#: Which of the cures an opening has.
Way = tuple[bool, bool, bool]


def check(case: Case) -> Iterator[Finding]:
    """One finding per opening; openings that the same would even are told in one."""
    windows = case.glow.uneven
    cures = [case.glow.cure(window) for window in windows]
    together = {way: _together(case, way, windows, cures) for way in set(map(_way, cures))}
    for window, cure in zip(windows, cures, strict=True):
        opening = case.card.openings[window.opening]
        yield Finding(
            CODE,
            "note",
            window.at,
            (opening.name,),
            _message(opening.number, window),
            _remedy(cure, len(window.lights)),
            together=together[_way(cure)],
        )


def _way(cure: Cure) -> Way:
    """Which of the cures there are: diffuser, foam, more lights."""
    return cure.diffuser, cure.spacer is not None, cure.lights is not None


def _together(
    case: Case, way: Way, windows: Sequence[WindowGlow], cures: Sequence[Cure]
) -> Together | None:
    """All windows with the same cures in one sentence, by the strongest of each."""
    pairs = zip(windows, cures, strict=True)
    some = [(window, cure) for window, cure in pairs if _way(cure) == way]
    if len(some) < 2:
        return None
    sizes = [window.hot_spot or 0.0 for window, _ in some]
    low, high = figure(min(sizes)), mm(max(sizes))
    size = high if mm(min(sizes)) == high else say("{low} to {high}", low=low, high=high)
    message = say(
        "Windows {numbers} have a bright spot each, {size} across; their darkest places get "
        "{share} of the light there.",
        numbers=numbers([case.card.openings[window.opening].number for window, _ in some]),
        size=size,
        share=_shares([window.evenness or 0.0 for window, _ in some]),
    )
    spacers = [cure.spacer for _, cure in some if cure.spacer is not None]
    ways = [say("vellum behind them")] if way[0] else []
    if spacers:
        ways.append(say("{spacer} more foam under the panel", spacer=mm(max(spacers))))
    if way[2]:
        ways.append(say("more lights spread over each"))
    remedy = say("More lights and vellum together would soften it; or leave it: many like it.")
    if ways:
        either = begun(reduce(_either, ways))
        remedy = say("{ways} would even them; or leave it: many like it.", ways=either)
    return Together(len(some), message, remedy)


def _shares(evenness: Sequence[float]) -> str:
    """What the darkest places of several get: 4 %; at most 6 %."""
    most = _percent(max(evenness))
    return most if _percent(min(evenness)) == most else say("at most {share}", share=most)


def _percent(evenness: float) -> str:
    share = 100.0 * evenness
    return f"{share:.0f} %" if share >= 1.0 else say("less than 1 %")


def _message(number: int, window: WindowGlow) -> str:
    return say(
        "Window {number} has a bright spot {size} across; its darkest place gets {share} of the "
        "light there.",
        number=number,
        size=mm(window.hot_spot or 0.0),
        share=_percent(window.evenness or 0.0),
    )


def _remedy(cure: Cure, lights: int) -> str:
    ways = []
    if cure.diffuser:
        ways.append(say("vellum behind it"))
    if cure.spacer is not None:
        ways.append(say("{spacer} more foam under the panel", spacer=mm(cure.spacer)))
    if cure.lights is not None:
        ways.append(
            say(
                "{more} lights spread over it instead of {now}",
                more=cure.lights,
                now=lights,
            )
        )
    if not ways:
        return say("More lights and vellum together would soften it; or leave it: many like it.")
    return say(
        "{ways} would even it; or leave it: many like it.", ways=begun(reduce(_either, ways))
    )


def _either(one: str, other: str) -> str:
    return say("{one} or {other}", one=one, other=other)
