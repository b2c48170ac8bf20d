"""uneven-lights: lights of one type that will differ to the eye.

The dimmest gets less than `light-evenness` of what the brightest of its type gets, once the
battery and the overlaps have aged: then every overlap counts. Where both tapes start at the same
end, the far light has all of both before it; fed from opposite ends, every light has as much.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

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
    (0.05, "next to nothing"),
    (0.15, "a tenth"),
    (0.22, "a fifth"),
    (0.29, "a quarter"),
    (0.40, "a third"),
    (0.50, "less than half"),
)


def check(case: Case) -> Iterator[Finding]:
    """One finding per type of light."""
    never = {light.id for light, _ in lacking(case)}
    for fault in uneven(case, never):
        lights = lights_of_type(case, fault.name, never)
        yield _finding(case, fault, lights)


def _finding(case: Case, fault: Fault, lights: list[tuple[Part, LightFlow]]) -> Finding:
    (dim, low), (bright, high) = dimmest_and_brightest(lights)
    figures = (
        f"{share_words(low, high)}, about {ma(low.amps[AGED])} mA against {ma(high.amps[AGED])}"
        if low.amps[AGED] > LIT
        else f"next to nothing against {ma(high.amps[AGED])} mA"
    )
    word = "faint" if low.amps[AGED] > LIT else "dark"
    message = f"{case.call(dim)} will be {word} beside {case.inner(bright)} ({figures} when aged)"
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
        return f"both tapes start nearer {case.inner(bright)} and reach it over {far.words}"
    return f"{far.words} lie before it"


def _effect(lights: Sequence[Part], case: Case, _: Sequence[Part]) -> str:
    return f"{lights_then(case, lights, AGED, 'get')} when aged"


def share_words(low: LightFlow, high: LightFlow) -> str:
    """a tenth, a quarter, a third, less than half, 62 % of it."""
    share = low.amps[AGED] / high.amps[AGED]
    words = (word for limit, word in SHARES if share < limit)
    return next(words, f"{100.0 * share:.0f} % of it")
