"""uneven-lights: lights of one type that will differ to the eye.

The dimmest gets less than `light-evenness` of what the brightest of its type gets, once the
battery and the overlaps have aged: then every overlap counts. Where both tapes start at the same
end, the far light has all of both before it; fed from opposite ends, every light has as much.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from ..language import later, say
from ..model.card import Part
from ..model.case import LIT, Case
from ..model.finding import Finding
from ..model.operation import AGED, LightFlow
from .amps import ma
from .curing.faults import Fault, dimmest_and_brightest, lacking, lights_of_type, uneven
from .curing.remedies import lights_then, remedy
from .ways import way_to

CODE = "uneven-lights"

#: Words for a share of the brightest light.
SHARES = (
    (0.05, later("next to nothing")),
    (0.15, later("a tenth")),
    (0.22, later("a fifth")),
    (0.29, later("a quarter")),
    (0.40, later("a third")),
    (0.50, later("less than half")),
)


def check(case: Case) -> Iterator[Finding]:
    """One finding per type of light."""
    never = {light.id for light, _ in lacking(case)}
    for fault in uneven(case, never):
        lights = lights_of_type(case, fault.name, never)
        yield _finding(case, fault, lights)


def _finding(case: Case, fault: Fault, lights: list[tuple[Part, LightFlow]]) -> Finding:
    (dim, low), (bright, high) = dimmest_and_brightest(lights)
    words = {"light": case.call(dim), "other": case.inner(bright), "high": ma(high.amps[AGED])}
    if low.amps[AGED] > LIT:
        message = say(
            "{light} will be faint beside {other} ({share}, about {low} mA against {high} when "
            "aged)",
            share=share_words(low, high),
            low=ma(low.amps[AGED]),
            **words,
        )
    else:
        message = say(
            "{light} will be dark beside {other} (next to nothing against {high} mA when aged)",
            **words,
        )
    why = _why(case, dim, bright)
    message += f": {why}." if why else "."
    cure = remedy(case, CODE, fault.name, partial(_effect, [light for light, _ in lights]))
    return Finding(CODE, "caution", dim.at, (dim.id, bright.id), message, cure)


def _why(case: Case, dim: Part, bright: Part) -> str:
    far, near = way_to(case, dim), way_to(case, bright)
    if far is None:
        return ""
    if near is not None and all(
        a.length > b.length for a, b in zip(far.ways, near.ways, strict=True)
    ):
        return say(
            "both tapes start nearer {light} and reach it over {tape}",
            light=case.inner(bright),
            tape=far.words,
        )
    return say("{tape} lie before it", tape=far.words)


def _effect(lights: Sequence[Part], case: Case, _: Sequence[Part]) -> str:
    return say("{effect} when aged", effect=lights_then(case, lights, AGED, "get"))


def share_words(low: LightFlow, high: LightFlow) -> str:
    """a tenth, a quarter, a third, less than half, 62 % of it."""
    share = low.amps[AGED] / high.amps[AGED]
    words = (say(word) for limit, word in SHARES if share < limit)
    return next(words, None) or say("{share} % of it", share=round(100.0 * share))
