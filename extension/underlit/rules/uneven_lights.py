"""uneven-lights: lights of one type that will differ to the eye.

The dimmest gets less than `light-evenness` of what the brightest of its type gets, once the
battery and the overlaps have aged: then every overlap counts. Where both tapes start at the same
end, the far light has all of both before it; fed from opposite ends, every light has as much.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding
from ..model.operation import AGED, LightFlow, Operation
from .cures import before, cure_for, lights_of_type, ma
from .voltage_too_low import lacking

CODE = "uneven-lights"

#: Words for a share of the brightest light.
SHARES = (
    (0.05, "next to nothing"),
    (0.15, "a tenth"),
    (0.22, "a fifth"),
    (0.29, "a quarter"),
    (0.40, "a third"),
    (0.50, "less than half"),
)


def check(case: Case) -> Iterator[Finding]:
    """One finding per type of light."""
    limit = case.profile.limits.light_evenness
    never = None
    for kind in dict.fromkeys(light.type for light, _ in case.fed):
        lights = lights_of_type(case, kind)
        if _evenness([flow for _, flow in lights]) >= limit * (1.0 - 1e-9):
            continue
        never = {light.id for light, _ in lacking(case)} if never is None else never
        lights = [(light, flow) for light, flow in lights if light.id not in never]
        if _evenness([flow for _, flow in lights]) < limit * (1.0 - 1e-9):
            yield _finding(case, lights)


def _evenness(flows: list[LightFlow]) -> float:
    """Dimmest over brightest, aged; 1 where there is nothing to compare."""
    amps = [flow.amps[AGED] for flow in flows]
    return min(amps) / max(amps) if len(amps) > 1 and max(amps) > 0.0 else 1.0


def _finding(case: Case, lights: list[tuple[Part, LightFlow]]) -> Finding:
    dim, low = min(lights, key=lambda pair: (pair[1].amps[AGED], pair[0].id))
    bright, high = max(lights, key=lambda pair: (pair[1].amps[AGED], pair[0].id))
    way = before(case, dim)
    message = (
        f"{case.call(dim)} will be faint beside {case.inner(bright)} ({share_words(low, high)}, "
        f"about {ma(low.amps[AGED])} mA against {ma(high.amps[AGED])} when aged)"
    )
    if way:
        message += f": {way} lie before it"
    names = [light.id for light, _ in lights]

    def even(trial: Operation) -> bool:
        flows = [trial.lights[name] for name in names if name in trial.lights]
        return len(flows) > 1 and _evenness(flows) >= case.profile.limits.light_evenness

    cure = cure_for(case, dim, low, even)
    return Finding(
        CODE,
        "caution",
        dim.at,
        (dim.id, bright.id),
        f"{message}.",
        _remedy(case, dim, bright, cure),
    )


def share_words(low: LightFlow, high: LightFlow) -> str:
    """a tenth, a quarter, a third, less than half, 62 % of it."""
    share = low.amps[AGED] / high.amps[AGED]
    words = (word for limit, word in SHARES if share < limit)
    return next(words, f"{100.0 * share:.0f} % of it")


def _remedy(case: Case, dim: Part, bright: Part, cure: tuple[str, Operation] | None) -> str:
    if cure is None:
        return "Feed one tape from its other end, and join with fewer overlaps."
    words, trial = cure
    flows = [trial.lights.get(part.id) for part in (dim, bright)]
    if flows[0] is None or flows[1] is None:
        return f"{words}; the others are then alike."
    low, high = (ma(flow.amps[AGED]) for flow in flows if flow is not None)
    return f"{words}; they then get about {low} and {high} mA."
