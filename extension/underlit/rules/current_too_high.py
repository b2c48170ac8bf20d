"""current-too-high: a light takes more than it stands.

The battery's own resistance is all that holds the current back where no resistor lies before
a light; a red light on a strong battery takes many times what a white one does. Judged after
a minute against `largest-ma` of the light. The figures are estimates: a fresh battery gives more
at the moment of pressing, and the maker of the light knows best what it stands.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding
from ..model.operation import MINUTE, Change, LightFlow
from .cures import OHMS, ma, ma_against
from .wording import figure

CODE = "current-too-high"


def check(case: Case) -> Iterator[Finding]:
    """One finding per light."""
    hot = [(light, flow) for light, flow in case.fed if _over(case, light, flow)]
    if not hot:
        return
    remedies = _remedies(case, [light for light, _ in hot])
    for light, flow in hot:
        limit = case.profile.lights[light.type].largest_ma
        message = (
            f"{case.call(light)} takes more than it stands: about "
            f"{ma_against(flow.amps[MINUTE], limit)} mA after a minute, the limit is "
            f"{figure(limit)}."
        )
        yield Finding(CODE, "stop", light.at, (light.id,), message, remedies[light.id])


def _over(case: Case, light: Part, flow: LightFlow) -> bool:
    limit = case.profile.lights[light.type].largest_ma
    return 1e3 * flow.amps[MINUTE] > limit * (1.0 + 1e-9)


def _remedies(case: Case, hot: list[Part]) -> dict[str, str]:
    """Remedy of each light: the smallest resistor that is enough when all of them get it."""
    assert case.supply is not None
    for ohm in OHMS:
        trial = case.supply.operate(Change(resistors={light.id: ohm for light in hot}))
        flows = {light.id: trial.lights[light.id] for light in hot}
        if not any(_over(case, light, flows[light.id]) for light in hot):
            return {
                name: f"Put a resistor of {figure(ohm)} ohms before it; it then takes about "
                f"{ma(flow.amps[MINUTE])} mA."
                for name, flow in flows.items()
            }
    return dict.fromkeys((light.id for light in hot), "Use a weaker battery or another light.")
