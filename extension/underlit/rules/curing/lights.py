"""What could be done at the lights: resistors, side by side, another colour, fewer of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import inf, isfinite
from types import MappingProxyType

from ...language import figure, inside, joined, say
from ...model.card import PADS, Part, ohms_of
from ...model.case import LIT, Case
from ...model.circuit import Net
from ...model.operation import MINUTE, Change, Foot, LightFlow
from ...units import E12
from ..wording import kind_words
from .faults import lacking, volts_needed
from .states import Option, Passes, Purse, State, first_from

#: Resistors that are tried: E12 from 10 to 8200 ohm.
OHMS = tuple(float(step * ten) for ten in (1, 10, 100) for step in E12)

#: A light of another colour that gets so many times as much takes it from this one.
ROBS = 3.0

#: Faults of a battery that gives too much.
DRAIN = ("cell-overdrawn", "cell-life-short")

#: So many lights are named one by one.
FEW = 4

#: Lights that are moved, and the feet beside which they then lie.
Beside = Mapping[str, tuple[Foot, Foot]]


def robbers(
    case: Case, light: Part, flow: LightFlow, beside: Beside = MappingProxyType({})
) -> list[Part]:
    """Lights of other types on the same tape that get far more than this one."""
    return [
        other
        for other, theirs in case.fed
        if other.type != light.type
        and theirs.amps[MINUTE] > ROBS * max(flow.amps[MINUTE], LIT)
        and _same_nets(case, light, other, beside)
    ]


def _nets(case: Case, part: Part, beside: Beside = MappingProxyType({})) -> list[Net]:
    """The nets of both feet, plus first; of a light that is moved, those it is moved to."""
    circuit = case.circuit
    feet = beside.get(part.id) or [(part.id, pad) for pad in PADS["light"]]
    return [circuit.nets[circuit.net_of[circuit.pad_index[foot]]] for foot in feet]


def _same_nets(case: Case, one: Part, other: Part, beside: Beside) -> bool:
    """Whether plus lies with plus and minus with minus: of lights and batteries."""
    return _nets(case, one, beside) == _nets(case, other, beside)


def called(case: Case, lights: Iterable[Part]) -> str:
    """light 3; lights 2, 3 and 5; lights 4 to 15."""
    numbers = {light.id: i for i, light in enumerate(case.card.lights, 1)}
    runs: list[list[int]] = []
    for number in sorted(numbers[light.id] for light in lights):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    words = [
        word
        for run in runs
        for word in (
            [say("{first} to {last}", first=run[0], last=run[-1])]
            if len(run) > 2
            else [str(n) for n in run]
        )
    ]
    text = joined(words)
    if text.isdigit():
        return say("light {number}", number=text)
    return say("lights {numbers}", numbers=text)


def resistors(case: Case, state: State, goals: Sequence[Passes], purse: Purse) -> Iterator[Option]:
    """The next standard resistor before the lights that take too much."""
    for group in _groups(state):
        names = [light.id for light in group]

        def put(ohm: float, names: Sequence[str] = names) -> State:
            return state.then(Change(resistors=dict.fromkeys(names, ohm)))

        ohm = first_from(OHMS, put, purse, goals)
        if ohm is not None:
            yield Option(_before(case, group, figure(ohm)), put(ohm))


def _groups(state: State) -> Iterator[tuple[Part, ...]]:
    """Lights too hot; lights that rob others; both; those on a battery that gives too much; all."""
    now, seen = state.case, set()
    flows = {light.id: flow for light, flow in now.fed}
    hot = {f.part.type for f in state.faults.values() if f.code == "current-too-high"}
    dim = [f.part for f in state.faults.values() if f.code == "light-dim"]
    beside = state.change.beside
    robbing = {o.type for light in dim for o in robbers(now, light, flows[light.id], beside)}
    groups = [
        [one for one, _ in now.fed if one.type in kinds] for kinds in (hot, robbing, hot | robbing)
    ]
    drained = [fault.part for fault in state.faults.values() if fault.code in DRAIN]
    fed = [light for light, _ in now.fed]
    groups += [[one for one in fed if _same_nets(now, one, cell, beside)] for cell in drained]
    groups += [fed for _ in drained[:1]]
    for group in groups:
        names = frozenset(light.id for light in group)
        if group and names not in seen:
            seen.add(names)
            yield tuple(group)


def _before(case: Case, group: Sequence[Part], ohms: str) -> str:
    """A resistor before some lights, in words."""
    if len(group) == 1:
        return say(
            "Put a resistor of {ohms} ohms before {light}", ohms=ohms, light=called(case, group)
        )
    if len(group) == len(case.fed):
        return say("Put a resistor of {ohms} ohms before each light", ohms=ohms)
    kinds = {light.type for light in group}
    if len(group) == sum(light.type in kinds for light, _ in case.fed):
        return say(
            "Put a resistor of {ohms} ohms before each {kinds} light",
            ohms=ohms,
            kinds=kind_words(kinds),
        )
    return say(
        "Put a resistor of {ohms} ohms before each of {lights}",
        ohms=ohms,
        lights=called(case, group),
    )


def side_by_side(
    case: Case, state: State, goals: Sequence[Passes], purse: Purse
) -> Iterator[Option]:
    """Lights that lie in a row, each between plus and minus instead, with resistors if need be."""
    rows = [row for light, _ in lacking(state.case) if (row := in_a_row(state.case, light))]
    beside: dict[str, tuple[Foot, Foot]] = {}
    for row in rows:
        plus = [p for p in row if _sign(state.case, p, "positive-pad") == "positive"]
        minus = [p for p in row if _sign(state.case, p, "negative-pad") == "negative"]
        if plus and minus:
            feet = ((plus[0].id, "positive-pad"), (minus[0].id, "negative-pad"))
            beside |= {light.id: feet for light in row}
    if beside:
        moved = [light for light in case.card.lights if light.id in beside]
        words = say(
            "Put {lights} side by side, each between plus and minus tape",
            lights=called(case, moved),
        )
        moved_to = Option(words, state.then(Change(beside=beside)))
        yield from _with_resistors(case, moved_to, goals, purse)


def _with_resistors(
    case: Case, option: Option, goals: Sequence[Passes], purse: Purse
) -> Iterator[Option]:
    """An option alone, and where that leaves faults, with resistors as well."""
    yield option
    if option.state.faults:
        for more in resistors(case, option.state, goals, purse):
            words = say("{cure}, and {more}", cure=option.words, more=inside(more.words))
            yield Option(words, more.state)


def in_a_row(case: Case, light: Part) -> list[Part]:
    """All lights joined to this one by tape that is neither plus nor minus; [] where none is."""
    found, todo = {light.id: light}, [light]
    while todo:
        one = todo.pop()
        between = [net for net in _nets(case, one) if net.polarity == "none"]
        for other in case.card.lights:
            if other.id not in found and any(net in between for net in _nets(case, other)):
                found[other.id] = other
                todo.append(other)
    return [one for one in case.card.lights if one.id in found] if len(found) > 1 else []


def _sign(case: Case, light: Part, pad: str) -> str:
    return case.circuit.pad_net(light, pad).polarity


def recoloured(case: Case, state: State) -> Iterator[Option]:
    """Lights of a higher voltage where they are too hot, of a lower one where they lack it."""
    for code, sign in (("voltage-too-low", -1.0), ("current-too-high", 1.0)):
        parts = [f.part for f in state.faults.values() if f.code == code]
        if not parts:
            continue
        kinds = case.profile.lights
        volts = {name: volts_needed(kind) for name, kind in kinds.items()}
        own = max(sign * volts[part.type] for part in parts)
        better = [name for name in kinds if sign * volts[name] > own + 0.1]
        for name in sorted(better, key=lambda name: (kinds[name].least_volt, sign * volts[name])):
            words = _instead(name, called(case, parts), len(parts))
            yield Option(words, state.then(Change(types={part.id: name for part in parts})))


def _instead(kind: str, lights: str, number: int) -> str:
    words = {"kind": kind_words([kind]), "lights": lights}
    if number > 1:
        return say("Use {kind} lights instead of {lights}", **words)
    if kind[0] in "aeiou":
        return say("Use an {kind} light instead of {lights}", **words)
    return say("Use a {kind} light instead of {lights}", **words)


def other_resistors(
    case: Case, state: State, goals: Sequence[Passes], purse: Purse
) -> Iterator[Option]:
    """Another value instead of a resistor: the largest that is small enough, or where too much
    flows, the smallest that is large enough; or without it."""
    strained = any(fault.code in {*DRAIN, "current-too-high"} for fault in state.faults.values())
    for part in case.card.resistors:
        words = say("Take {resistor} out and leave its place open", resistor=case.inner(part))
        out = Option(words, state.then(Change(ohms={part.id: inf})))
        yield from _with_resistors(case, out, goals, purse)
        own = state.change.ohms.get(part.id, ohms_of(part)) or 0.0
        own = own if isfinite(own) else 0.0
        larger = [ohm for ohm in OHMS if ohm > own]
        sizes = larger if strained else [ohm for ohm in OHMS if ohm < own][::-1]

        def put(ohm: float, name: str = part.id) -> State:
            return state.then(Change(ohms={name: ohm}))

        ohm = first_from(sizes, put, purse, goals) if own else None
        if ohm is not None:
            words = say(
                "Use {ohms} ohms instead of {now} {at_resistor}",
                ohms=figure(ohm),
                now=figure(own),
                at_resistor=case.at(part),
            )
            yield Option(words, put(ohm))
        words = say("Lay tape across instead of {resistor}", resistor=case.inner(part))
        across = Option(words, put(0.0))
        yield from _with_resistors(case, across, goals, purse)


def fewer(case: Case, state: State, goals: Sequence[Passes], purse: Purse) -> Iterator[Option]:
    """Without the lights that rob others; without as few of the dimmest as is enough."""
    now = state.case
    flows = {light.id: flow for light, flow in now.fed}
    dim = [f.part for f in state.faults.values() if f.code == "light-dim"]
    beside = state.change.beside
    robbing = {o.id for light in dim for o in robbers(now, light, flows[light.id], beside)}
    order = sorted(now.fed, key=lambda pair: (pair[1].amps[MINUTE], pair[0].id))
    rest = [light for light, _ in order]

    def without(lights: Sequence[Part]) -> State:
        return state.then(Change(without=frozenset(light.id for light in lights)))

    thieves = [light for light in rest if light.id in robbing]
    if 0 < len(thieves) < len(rest):
        yield Option(_taken_out(case, thieves, 0), without(thieves))
    sizes = [rest[:n] for n in range(1, len(rest))]
    out = first_from(sizes, without, purse, goals)
    if out is not None:
        yield Option(_taken_out(case, out, len(rest) - len(out)), without(out))


def _taken_out(case: Case, out: Sequence[Part], kept: int) -> str:
    """What to do without some lights; how many of how many is said of many and none to keep."""
    lights = called(case, out)
    if len(out) <= FEW or not kept:
        return say("Take {lights} out", lights=lights)
    return say(
        "Take {lights} out ({number} of {all})",
        lights=lights,
        number=len(out),
        all=len(out) + kept,
    )
