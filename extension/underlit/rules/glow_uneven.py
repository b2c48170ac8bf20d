"""glow-uneven: a lit window with a bright spot.

The darkest place of a window with a light behind it gets less than `evenness` (table `[glow]`) of
the light of its brightest; behind a diffuser, which spreads light sideways, `soft-evenness` passes.
Computed from direct light alone, for the spacer and the transmissions of the profile. The hot spot
is as wide as a disc of the area that gets more than half of the brightest. What is offered as a
cure was computed: it would do by itself. Proposed limits, no source; many like a bright spot.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import reduce

from ..language import begun, mm, say
from ..model.case import Case
from ..model.finding import Finding
from ..model.glow import Cure, WindowGlow

CODE = "glow-uneven"


def check(case: Case) -> Iterator[Finding]:
    """One finding per opening."""
    for window in case.glow.uneven:
        opening = case.card.openings[window.opening]
        yield Finding(
            CODE,
            "note",
            window.at,
            (opening.name,),
            _message(opening.number, window),
            _remedy(case.glow.cure(window), len(window.lights)),
        )


def _message(number: int, window: WindowGlow) -> str:
    share = 100.0 * (window.evenness or 0.0)
    percent = f"{share:.0f} %" if share >= 1.0 else say("less than 1 %")
    return say(
        "Window {number} has a bright spot {size} across; its darkest place gets {share} of the "
        "light there.",
        number=number,
        size=mm(window.hot_spot or 0.0),
        share=percent,
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
