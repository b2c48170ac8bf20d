"""light-reversed: a light lies the wrong way round.

Its plus foot is on minus tape and its minus foot on plus tape (or, with lights in a row, it
stands against the others). It stays dark and may suffer.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import say
from ..model.case import Case
from ..model.finding import Finding

CODE = "light-reversed"

#: (polarity under the plus foot, under the minus foot) of a light that is reversed.
WRONG = {("negative", "positive"), ("negative", "none"), ("none", "positive")}


def check(case: Case) -> Iterator[Finding]:
    """One finding per light."""
    for light in case.card.lights:
        plus = case.circuit.pad_net(light, "positive-pad")
        minus = case.circuit.pad_net(light, "negative-pad")
        if plus.fed and minus.fed and (plus.polarity, minus.polarity) in WRONG:
            yield Finding(
                CODE,
                "stop",
                light.at,
                (light.id,),
                say("{light} is the wrong way round.", light=case.call(light)),
                say("Turn it half round."),
            )
