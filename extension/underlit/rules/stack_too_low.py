"""stack-too-low: the foam is thinner than what lies under the panel.

Foam settles by about a seventh (`foam-settling`). What is left of the profile's `spacer` is held
against the tallest light or battery, which is taken at its largest and with its tape. A drawing
does not say how thick its foam is, so a card is judged only where its settings name a spacer.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import mm, say
from ..model.case import Case
from ..model.finding import Finding
from ..stack import (
    SHIPPED_SPACER,
    cheapest,
    needed_spacer,
    pressed_height,
    settled,
    tallest,
)
from ..units import TOLERANCE
from .wording import layers

CODE = "stack-too-low"


def check(case: Case) -> Iterator[Finding]:
    """One finding per card."""
    spacer, profile = case.profile.stack.spacer, case.profile
    if spacer == SHIPPED_SPACER:
        return
    tall = tallest(case.card, profile)
    left = settled(spacer, profile)
    if tall is None or left >= tall.height - TOLERANCE:
        return
    fit = cheapest(tall.height, pressed_height(case.card, profile), profile)
    if fit is None:
        cure = say(
            "It takes {needed} of foam; none of yours fits.",
            needed=mm(needed_spacer(tall.height, profile)),
        )
    else:
        foam = layers(fit.foams, profile)
        if len(fit.foams) > 1:
            cure = say(
                "Lay foam of {foam}, one on the other, and set the spacer to that.", foam=foam
            )
        else:
            cure = say("Lay foam of {foam}, and set the spacer to that.", foam=foam)
    yield Finding(
        CODE,
        "caution",
        tall.part.at,
        (tall.part.id,),
        say(
            "The foam is {lacking} too thin for {part}: {spacer} settle to {left}, and it stands "
            "{height} high.",
            lacking=mm(tall.height - left),
            part=case.inner(tall.part),
            spacer=mm(spacer),
            left=mm(left),
            height=mm(tall.height),
        ),
        cure,
    )
