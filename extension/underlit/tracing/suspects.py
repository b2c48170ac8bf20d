"""Which places explain what a maker sees, the likeliest first.

A place is weighed by how well it explains the lights (the same ones, and no others, go dark)
times how often such places fail. The order of the latter is common practice, no source: overlaps
first, then feet, then touching tape, then cracks, then a dead light.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

import numpy as np
import shapely

from ..connectivity.groups import connected
from ..model.card import PADS, Part
from ..records import record
from .openings import Fault, Point, cracked_strips, open_feet, open_overlaps
from .wiring import Wiring

#: How often each kind of place is at fault, against an overlap.
OFTEN = {
    "overlap": 1.0,
    "battery-foot": 0.9,
    "foot": 0.8,
    "touch": 0.6,
    "battery": 0.5,
    "strip": 0.35,
    "light": 0.3,
    "held": 0.8,
    "bridge": 0.6,
}

#: Narrow places nearer to each other than this are one (mm).
ONE_PLACE = 8.0

#: No suspect names more places than this: nobody looks at more in one go.
MOST = 6

#: A warm battery says that plus and minus touch.
WARM, COLD = 4.0, 0.5

#: What flickers is loose rather than broken.
LOOSE = {"overlap": 1.5, "battery-foot": 1.5, "foot": 1.5, "touch": 1.0}
NOT_LOOSE = 0.4

#: Opposite tape farther apart than this does not come to touch (mm).
REACH = 6.0

#: A place that would darken lights that shine explains little.
CONTRADICTED = 0.15


@record
class Symptoms:
    """What the maker sees: ids of lights that stay dark, flicker, shine without pressing.

    `warm`: the battery gets warm or runs flat soon.
    """

    dark: frozenset[str] = frozenset()
    flicker: frozenset[str] = frozenset()
    always: frozenset[str] = frozenset()
    warm: bool = False


@record
class Suspect:
    """Something to look at: its places, the likeliest first, in one go.

    `kinds` and `objects` go with `places`. `lights` are those it would explain; `score` orders
    suspects.
    """

    kinds: tuple[str, ...]
    places: tuple[Point, ...]
    objects: tuple[tuple[str, ...], ...]
    lights: frozenset[str]
    score: float


def find_suspects(wiring: Wiring, symptoms: Symptoms, gap: float) -> tuple[Suspect, ...]:
    """Suspects in order of likelihood; `gap` is the smallest gap that a hand keeps (mm).

    Places that darken the same lights cannot be told apart from outside: those on one side of
    the tape, or at one part, are one suspect.
    """
    scored: list[tuple[float, Fault]] = []
    wrong = symptoms.dark | symptoms.flicker
    if wrong:
        loose = bool(symptoms.flicker) and not symptoms.dark
        faults = [fault for fault in _all(wiring, gap) if fault.dark & wrong]
        scored += [(_score(fault, wrong, loose, symptoms.warm), fault) for fault in faults]
    if symptoms.always:
        always = symptoms.always
        scored += [
            (_fit(fault.dark, always) * OFTEN[fault.kind] * fault.weakness, fault)
            for fault in _shining(wiring, gap)
            if fault.dark & always
        ]
    return _grouped(scored, wrong | symptoms.always)


def _grouped(scored: Sequence[tuple[float, Fault]], wrong: frozenset[str]) -> tuple[Suspect, ...]:
    """Faults of one group and effect together, the likeliest places first."""
    groups: dict[tuple[str, frozenset[str]], list[tuple[float, Fault]]] = {}
    for score, fault in sorted(scored, key=lambda one: (-round(one[0], 6), *one[1].at[::-1])):
        groups.setdefault((fault.group, fault.dark), []).append((score, fault))
    return tuple(
        Suspect(
            tuple(fault.kind for _, fault in members[:MOST]),
            tuple(fault.at for _, fault in members[:MOST]),
            tuple(fault.objects for _, fault in members[:MOST]),
            members[0][1].dark & wrong,
            members[0][0],
        )
        for members in groups.values()
    )


def _all(wiring: Wiring, gap: float) -> Iterator[Fault]:
    yield from open_overlaps(wiring)
    yield from open_feet(wiring)
    yield from _touching(wiring, gap)
    yield from cracked_strips(wiring)
    for light in wiring.card.lights:
        if light.id in wiring.shining:
            yield Fault("light", light.at, (light.id,), frozenset((light.id,)), light.id)
    for cell in wiring.card.cells:
        yield Fault("battery", cell.at, (cell.id,), wiring.by_cell[cell.id], cell.id)


def _score(fault: Fault, wrong: frozenset[str], loose: bool, warm: bool) -> float:
    fit = _fit(fault.dark, wrong) ** 2  # two faults at once are rarer than one
    if fault.dark - wrong:
        fit *= CONTRADICTED
    weight = OFTEN[fault.kind] * fault.weakness
    if loose:
        weight *= LOOSE.get(fault.kind, NOT_LOOSE)
    if warm:
        weight *= WARM if fault.kind == "touch" else COLD
    return fit * weight


def _touching(wiring: Wiring, gap: float) -> Iterator[Fault]:
    """Opposite tape (and feet) near enough to touch, the narrowest places first.

    Of several narrow places close together only the narrowest is named.
    """
    circuit = wiring.circuit
    sides = [circuit.nets[n].polarity for n in circuit.net_of]
    plus = [i for i, side in enumerate(sides) if side == "positive"]
    minus = [i for i, side in enumerate(sides) if side == "negative"]
    kept: list[Point] = []
    for i, k, at, far in sorted(_near(wiring, plus, minus), key=lambda n: (round(n[3], 3), n)):
        first, second = circuit.conductors[i], circuit.conductors[k]
        if first.part is not None and first.part is second.part:
            continue
        if any(hypot(at[0] - x, at[1] - y) < ONE_PLACE for x, y in kept):
            continue
        kept.append(at)
        names = (first.name, second.name)
        yield Fault("touch", at, names, wiring.dark_with(i, k), "touch", _near_weight(far, gap))


def _near(
    wiring: Wiring, ones: list[int], others: list[int]
) -> Iterator[tuple[int, int, Point, float]]:
    """Pairs of conductors nearer than REACH: numbers, the middle between them, distance."""
    if not ones or not others:
        return
    areas = np.array([c.geometry for c in wiring.circuit.conductors], dtype=object)
    tree = shapely.STRtree(areas[others])
    hits = tree.query(areas[ones], predicate="dwithin", distance=REACH)
    for a, b in sorted(zip(*(h.tolist() for h in hits), strict=True)):
        i, k = ones[a], others[b]
        line = shapely.shortest_line(areas[i], areas[k])
        middle = line.interpolate(0.5, normalized=True)
        yield i, k, (middle.x, middle.y), float(line.length)


def _near_weight(far: float, gap: float) -> float:
    return min(3.0, max(0.3, gap / max(far, 0.1)))


def _shining(wiring: Wiring, gap: float) -> Iterator[Fault]:
    """Why lights shine though nobody presses: a switch held, or a bridge past it."""
    for part in (*wiring.card.switches, *wiring.card.cells):
        yield Fault("held", part.at, (part.id,), _behind(wiring, part), part.id)
    for switch in wiring.card.switches:
        lights = _behind(wiring, switch)
        for i, k, at, far in _near(wiring, *_sides(wiring, switch)):
            one, other = wiring.circuit.conductors[i], wiring.circuit.conductors[k]
            if one.part is None or one.part is not other.part:
                names = (one.name, other.name)
                yield Fault("bridge", at, names, lights, "bridge", _near_weight(far, gap))


def _fit(lights: frozenset[str], wanted: frozenset[str]) -> float:
    return len(lights & wanted) / max(1, len(lights | wanted))


def _behind(wiring: Wiring, part: Part) -> frozenset[str]:
    """Lights that only shine while a switch (or a battery's own) is closed."""
    if part.kind == "cell":
        return wiring.by_cell[part.id]
    ends = [wiring.circuit.pad_index[part.id, pad] for pad in PADS["switch"]]
    opened = [k for k, pair in enumerate(wiring.joins) if set(pair) & set(ends)]
    return wiring.dark_without(opened)


def _sides(wiring: Wiring, switch: Part) -> tuple[list[int], list[int]]:
    """Conductors joined to either contact of a switch while all switches are open."""
    labels = connected(len(wiring.circuit.conductors), wiring.joins)
    first, second = (labels[wiring.circuit.pad_index[switch.id, pad]] for pad in PADS["switch"])
    if first == second:
        return [], []
    return (
        [i for i, label in enumerate(labels) if label == first],
        [i for i, label in enumerate(labels) if label == second],
    )
