"""The way of least resistance to a light: how much tape and how many overlaps lie before it."""

from __future__ import annotations

from heapq import heappop, heappush

from ..model.card import Card
from ..model.circuit import Circuit
from ..model.operation import Way
from ..profiles import Profile
from .wiring import PAD, Wiring

#: (ohms, other node, mm of tape, overlaps)
Step = tuple[float, int, float, int]


def ways_from(
    wiring: Wiring, card: Card, circuit: Circuit, profile: Profile, pad: str
) -> dict[int, Way]:
    """Node -> its way from the nearest cell's pad of one sign, of all that are reached."""
    starts = sorted(wiring.pad_node[cell.id, pad] for cell in card.cells)
    steps = _steps(wiring, card, circuit, profile)
    queue = [(0.0, start, 0.0, 0) for start in starts]
    found: dict[int, Way] = {}
    while queue:
        ohm, here, length, overlaps = heappop(queue)
        if here in found:
            continue
        found[here] = Way(length, overlaps)
        for more, there, mm, joint in steps.get(here, ()):
            if there not in found:
                heappush(queue, (ohm + more, there, length + mm, overlaps + joint))
    return found


def _steps(wiring: Wiring, card: Card, circuit: Circuit, profile: Profile) -> dict[int, list[Step]]:
    """Node -> what leads on from it: tape, contacts (aged), closed switches."""
    tape = profile.tape
    opened = {i for short in circuit.shorts for i in short.contacts}
    found: dict[int, list[Step]] = {}

    def join(a: int, b: int, ohm: float, mm: float, joint: int) -> None:
        found.setdefault(a, []).append((ohm, b, mm, joint))
        found.setdefault(b, []).append((ohm, a, mm, joint))

    rows = zip(wiring.tape.tolist(), wiring.per_square.tolist(), wiring.mm.tolist(), strict=True)
    for (a, b), per_square, mm in rows:
        if per_square > 0.0:
            join(a, b, tape.ohms_per_square / per_square, mm, 0)
    contacts = zip(
        wiring.contacts.tolist(),
        wiring.area.tolist(),
        wiring.kind.tolist(),
        wiring.contact.tolist(),
        strict=True,
    )
    for (a, b), area, kind, number in contacts:
        if number not in opened:
            ohm = (tape.pad_aged_ohm_mm2 if kind == PAD else tape.joint_aged_ohm_mm2) / area
            join(a, b, ohm, 0.0, int(kind != PAD))
    for part in card.switches:
        first, second = (wiring.pad_node[part.id, end] for end in ("contact-1", "contact-2"))
        join(first, second, 0.0, 0.0, 0)
    for part in card.resistors:
        first, second = (wiring.pad_node[part.id, end] for end in ("contact-1", "contact-2"))
        join(first, second, 1e3, 0.0, 0)
    return found
