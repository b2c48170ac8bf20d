"""light-shorted: both feet of a light lie on the same side.

No current runs through such a light; it stays dark.
"""

from __future__ import annotations

from collections.abc import Iterator

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
        tape = f"{SIDE[plus.polarity]} tape" if plus.polarity in SIDE else "the same tape"
        other = {"positive": "minus", "negative": "plus"}.get(plus.polarity, "other")
        yield Finding(
            CODE,
            "stop",
            light.at,
            (light.id,),
            f"Both feet of {case.inner(light)} sit on {tape}.",
            f"Move one foot to {other} tape.",
        )
