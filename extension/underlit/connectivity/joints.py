"""Overlaps that the circuit needs and that are too small, or do not conduct."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import shapely

from ..model.circuit import SIGN, Circuit, Contact
from ..records import record
from ..units import TOLERANCE
from .groups import connected, members


@record
class Weak:
    """A pair of strips (upper, lower) whose overlap does not do. Areas in mm2."""

    pair: tuple[int, int]
    area: float
    needed: float
    at: tuple[float, float]
    conducts: bool


def joint_area_needed(circuit: Circuit, pair: tuple[int, int], joint_cover: float) -> float:
    """`joint_cover` times the square of the narrower strip's width."""
    widths = (circuit.conductors[i].strip.width for i in pair)  # type: ignore[union-attr]
    return joint_cover * min(widths) ** 2


def weak_joints(circuit: Circuit, joint_cover: float) -> tuple[Weak, ...]:
    """Every weak pair without which some foot would lose its way, in order of pairs."""
    pairs = _strip_pairs(circuit)
    weak = [
        found
        for pair, contacts in pairs.items()
        if (found := _judge(circuit, pair, contacts, joint_cover)) is not None
    ]
    if not weak:
        return ()
    bad = {w.pair for w in weak}
    labels = connected(len(circuit.conductors), _good_pairs(circuit, bad))
    signs = _signs(circuit, labels)
    ends = [(labels[w.pair[0]], labels[w.pair[1]]) for w in weak]
    apart = [
        w for w, (a, b) in zip(weak, ends, strict=True) if a != b and not _opposed(signs, (a, b))
    ]
    return tuple(_needed(circuit, labels, signs, apart))


def _strip_pairs(circuit: Circuit) -> dict[tuple[int, int], list[Contact]]:
    """Contacts between strips by pair; those of shorts are open and left out."""
    opened = {i for short in circuit.shorts for i in short.contacts}
    pairs: dict[tuple[int, int], list[Contact]] = {}
    for i, contact in enumerate(circuit.contacts):
        if circuit.conductors[contact.upper].strip is not None and i not in opened:
            pairs.setdefault((contact.upper, contact.lower), []).append(contact)
    return pairs


def _judge(
    circuit: Circuit, pair: tuple[int, int], contacts: Sequence[Contact], joint_cover: float
) -> Weak | None:
    needed = joint_area_needed(circuit, pair, joint_cover)
    area = sum(contact.area for contact in contacts)
    conducts = contacts[0].conducts
    slack = TOLERANCE * needed**0.5
    if conducts and area >= needed - slack:
        return None
    centre = shapely.union_all([contact.place for contact in contacts]).centroid
    return Weak(pair, area, needed, (centre.x, centre.y), conducts)


def _good_pairs(circuit: Circuit, bad: set[tuple[int, int]]) -> list[tuple[int, int]]:
    """Everything that joins well: live contacts outside weak pairs, closed switches."""
    good = []
    for i in circuit.live:
        pair = (circuit.contacts[i].upper, circuit.contacts[i].lower)
        if pair not in bad:
            good.append(pair)
    index = circuit.pad_index
    switches = {
        p.id for c in circuit.conductors if (p := c.part) is not None and p.kind == "switch"
    }
    good += [(index[name, "contact-1"], index[name, "contact-2"]) for name in sorted(switches)]
    return good


def _signs(circuit: Circuit, labels: Sequence[int]) -> dict[int, set[str]]:
    """What the feet of batteries and lights say of each well-joined group."""
    found: dict[int, set[str]] = {}
    for conductor, label in zip(circuit.conductors, labels, strict=True):
        if conductor.part is not None and conductor.part.kind in {"light", "cell"}:
            found.setdefault(label, set()).add(SIGN[str(conductor.pad)])
    return found


def _opposed(signs: dict[int, set[str]], ends: tuple[int, int]) -> bool:
    """Whether the two sides of an overlap are meant to be plus and minus."""
    first, second = (signs.get(end, set()) for end in ends)
    return len(first) == 1 and len(second) == 1 and first != second


def _needed(
    circuit: Circuit,
    labels: Sequence[int],
    signs: dict[int, set[str]],
    weak: Sequence[Weak],
) -> list[Weak]:
    """Weak pairs on a way between feet of one side; dead ends and crossings are left out."""
    footed = {
        label
        for label, group in members(labels).items()
        if any(circuit.conductors[i].part is not None for i in group)
    }
    ends = {w.pair: (labels[w.pair[0]], labels[w.pair[1]]) for w in weak}
    left = _without_dead_ends(weak, ends, footed)
    loose = [ends[w.pair] for w in left if not footed & set(ends[w.pair])]
    pieces = connected(len(labels), loose)
    reached: dict[int, set[int]] = {}
    for w in left:
        for here, there in (ends[w.pair], ends[w.pair][::-1]):
            if here not in footed and there in footed:
                reached.setdefault(pieces[here], set()).add(there)

    def leads_on(here: int, there: int) -> bool:
        """Whether a footless piece joins this foot to another that is not opposed to it."""
        if here in footed or there not in footed:
            return True
        others = reached[pieces[here]] - {there}
        return any(not _opposed(signs, (there, other)) for other in others)

    kept = [w for w in left if leads_on(*ends[w.pair]) and leads_on(*ends[w.pair][::-1])]
    return _without_dead_ends(kept, ends, footed)


def _without_dead_ends(
    weak: Iterable[Weak], ends: dict[tuple[int, int], tuple[int, int]], footed: set[int]
) -> list[Weak]:
    """Weak pairs left once dead ends without any foot are pruned away."""
    left = list(weak)
    while True:
        near: dict[int, set[int]] = {}
        for w in left:
            a, b = ends[w.pair]
            near.setdefault(a, set()).add(b)
            near.setdefault(b, set()).add(a)
        dead = {label for label, n in near.items() if len(n) == 1 and label not in footed}
        kept = [w for w in left if not set(ends[w.pair]) & dead]
        if len(kept) == len(left):
            return kept
        left = kept
