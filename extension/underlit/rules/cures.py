"""What would help, tried out by computing: remedies with their effect, for the electrical rules."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from ..model.card import Part
from ..model.case import LIT, Case
from ..model.operation import MINUTE, Change, Feed, LightFlow, Operation
from ..units import E12
from .wording import against, count, figure, two_digits

#: Resistors that are tried: E12 from 10 to 820 ohm.
OHMS = tuple(float(step * ten) for ten in (1, 10) for step in E12)

#: Tape that is led round is longer than the straight line by this.
ROUND = 1.3

#: A light of another colour that gets so many times as much takes it from this one.
ROBS = 3.0

#: On cards of more lights than this nothing is tried out: a trial takes a tenth of a second.
MANY = 150

Passes = Callable[[Operation], bool]


def ma(amps: float) -> str:
    """Milliamperes in two digits: 0.31, 1.3, 14."""
    return two_digits(1e3 * amps)


def ma_against(amps: float, limit_ma: float) -> str:
    """The same with enough digits to differ from the limit that it misses."""
    text = ma(amps)
    return against(1e3 * amps, limit_ma) if text == two_digits(limit_ma) else text


def glow_word(amps: float, least_ma: float) -> str:
    """Words before figures: dark, faint, fine, bright."""
    if amps <= LIT:
        return "dark"
    if amps < 1e-3 * least_ma:
        return "faint"
    return "fine" if amps < 5e-3 else "bright"


def lights_of_type(case: Case, kind: str) -> list[tuple[Part, LightFlow]]:
    """Lights of one type that have a closed way from the battery."""
    return [(light, flow) for light, flow in case.fed if light.type == kind]


def robbers(case: Case, light: Part, flow: LightFlow) -> list[Part]:
    """Lights of other types that get far more than this one."""
    return [
        other
        for other, theirs in case.fed
        if other.type != light.type and theirs.amps[MINUTE] > ROBS * max(flow.amps[MINUTE], LIT)
    ]


def before(case: Case, light: Part) -> str:
    """What lies before a light: "480 mm of tape and 12 overlaps", "" where nobody can tell."""
    if case.supply is None:
        return ""
    ways = [case.supply.way(light.id, pad) for pad in ("positive-pad", "negative-pad")]
    found = [way for way in ways if way is not None]
    if len(found) < 2:
        return ""
    length, overlaps = sum(w.length for w in found), sum(w.overlaps for w in found)
    words = f"{length:.0f} mm of tape"
    return f"{words} and {count(overlaps, 'overlap', 'overlaps')}" if overlaps else words


def gentler(case: Case, robbing: Sequence[Part]) -> Iterator[tuple[str, Change]]:
    """A resistor at each of some lights, the smallest first."""
    kinds = sorted({part.type for part in robbing})
    for ohm in OHMS[4:]:
        at = " and ".join(kinds)
        words = f"Put a resistor of {figure(ohm)} ohms at each {at} light"
        yield words, Change(resistors={part.id: ohm for part in robbing})


def tape_cures(case: Case, light: Part) -> Iterator[tuple[str, Change]]:
    """What could be done to the tape for a light far from the battery."""
    tape = case.profile.tape
    cell = case.card.cells[0]
    for pad, side in (("negative-pad", "minus"), ("positive-pad", "plus")):
        far = cell.features[pad].distance(light.features[pad]) * ROUND
        feed = Feed(cell.id, light.id, pad, max(far, tape.width) / tape.width)
        yield f"Feed the {side} tape from the end at {case.inner(light)}", Change(feed=feed)
    if "overlap" in before(case, light):
        yield "Lay each tape in one piece, without overlaps", Change(joints=0.0)
    wider = [width for width in sorted(tape.stock_widths) if width > tape.width]
    if wider:
        share = tape.width / wider[-1]
        yield f"Use tape {figure(wider[-1])} mm wide", Change(tape=share, joints=share**2)


def larger_cell(case: Case) -> Iterator[tuple[str, Change]]:
    """The battery of least resistance, if the card has another."""
    own = {cell.type for cell in case.card.cells}
    cells = case.profile.cells
    best = min(cells, key=lambda name: (cells[name].sustained_ohm, -cells[name].capacity_mah))
    if best not in own:
        yield f"Use a {best.upper()} battery", Change(cells=best)


def fewer_lights(case: Case, passes: Passes) -> tuple[str, Operation] | None:
    """The most lights with which a rule is met, the dimmest taken off first."""
    assert case.supply is not None
    order = sorted(case.fed, key=lambda pair: (pair[1].amps[MINUTE], pair[0].id))
    names = [light.id for light, _ in order]
    low, high, best = 0, len(names), None
    while high - low > 1:
        middle = (low + high) // 2
        trial = case.supply.operate(Change(without=frozenset(names[:middle])))
        if passes(trial):
            high, best = middle, trial
        else:
            low = middle
    if best is None:
        return None
    kept = len(names) - high
    return f"Use {count(kept, 'light', 'lights')} instead of {len(names)}", best


def first_that_helps(
    case: Case, options: Iterator[tuple[str, Change]], passes: Passes
) -> tuple[str, Operation] | None:
    """The first of some cures with which a rule is met, and what then flows."""
    assert case.supply is not None
    for words, change in options:
        trial = case.supply.operate(change)
        if passes(trial):
            return words, trial
    return None


def cure_for(
    case: Case, light: Part, flow: LightFlow, passes: Passes
) -> tuple[str, Operation] | None:
    """A cure for a light that gets too little, proved by computing."""
    if len(case.card.lights) > MANY:
        return None
    robbing = robbers(case, light, flow)
    if robbing:
        found = first_that_helps(case, gentler(case, robbing), passes)
        if found is not None:
            return found
    else:
        found = first_that_helps(case, tape_cures(case, light), passes)
        if found is not None:
            return found
    found = first_that_helps(case, larger_cell(case), passes)
    return found if found is not None else fewer_lights(case, passes)


def cell_cure(case: Case, passes: Passes, effect: Callable[[Operation], str]) -> str:
    """What relieves a battery, proved by computing: a thicker one, resistors, fewer lights."""
    found = first_that_helps(case, larger_cell(case), passes)
    if found is None and len(case.card.lights) > MANY:
        return "Use far fewer lights, or feed them from a larger battery."
    if found is None:
        lights = [light for light, _ in case.fed]
        found = first_that_helps(case, _resistor_at_each(lights), passes)
    if found is None:
        found = fewer_lights(case, passes)
    if found is None:
        return "Use fewer lights or a thicker battery."
    words, trial = found
    return f"{words}; {effect(trial)}."


def _resistor_at_each(lights: Sequence[Part]) -> Iterator[tuple[str, Change]]:
    for ohm in OHMS[2::4]:
        words = f"Put a resistor of {figure(ohm)} ohms at each light"
        yield words, Change(resistors={light.id: ohm for light in lights})
