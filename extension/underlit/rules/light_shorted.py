"""light-shorted: both feet of a light lie on the same side.

No current runs through such a light; it stays dark.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import say
from ..model.case import Case
from ..model.finding import Finding
from .light_unfed import same_net
from .wording import SIDE

CODE = "light-shorted"


def check(case: Case) -> Iterator[Finding]:
    """One finding per light."""
    for light in case.card.lights:
        plus = case.circuit.pad_net(light, "positive-pad")
        minus = case.circuit.pad_net(light, "negative-pad")
        alike = plus.polarity == minus.polarity and plus.polarity in SIDE
        if not (same_net(case, light) or alike):
            continue
        yield Finding(
            CODE,
            "stop",
            light.at,
            (light.id,),
            *_words(plus.polarity, case.inner(light)),
        )


def _words(polarity: str, light: str) -> tuple[str, str]:
    """What is wrong and what to do."""
    if polarity == "positive":
        message = say("Both feet of {light} sit on plus tape.", light=light)
        return message, say("Move one foot to minus tape.")
    if polarity == "negative":
        message = say("Both feet of {light} sit on minus tape.", light=light)
        return message, say("Move one foot to plus tape.")
    message = say("Both feet of {light} sit on the same tape.", light=light)
    return message, say("Move one foot to other tape.")
