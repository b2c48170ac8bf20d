"""How many overlaps lie in series between the battery and each light."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable

from ..model.case import Case


def joints_to_worst_light(case: Case) -> int:
    """Most overlaps in series to any light (0: none)."""
    return max(joints_to_lights(case).values(), default=0)


def joints_to_lights(case: Case) -> dict[str, int]:
    """Light's id -> overlaps in series to it, there and back, each by its best way.

    Lights that no battery reaches are left out.
    """
    circuit = case.circuit
    near = _neighbours(case)
    index = circuit.pad_index
    from_plus = _overlaps(case, near, [index[c.id, "positive-pad"] for c in case.card.cells])
    from_minus = _overlaps(case, near, [index[c.id, "negative-pad"] for c in case.card.cells])
    found = {}
    for light in case.card.lights:
        plus = from_plus.get(index[light.id, "positive-pad"])
        minus = from_minus.get(index[light.id, "negative-pad"])
        if plus is not None and minus is not None:
            found[light.id] = plus + minus
    return found


def _neighbours(case: Case) -> dict[int, list[int]]:
    near: dict[int, list[int]] = {}
    pairs = [
        (case.circuit.contacts[i].upper, case.circuit.contacts[i].lower) for i in case.circuit.live
    ]
    index = case.circuit.pad_index
    pairs += [(index[s.id, "contact-1"], index[s.id, "contact-2"]) for s in case.card.switches]
    pairs += [(index[r.id, "contact-1"], index[r.id, "contact-2"]) for r in case.card.resistors]
    for a, b in pairs:
        near.setdefault(a, []).append(b)
        near.setdefault(b, []).append(a)
    return near


def _overlaps(case: Case, near: dict[int, list[int]], starts: Iterable[int]) -> dict[int, int]:
    """Conductor -> fewest strip-to-strip steps from the starts (0-1 breadth first search)."""
    conductors = case.circuit.conductors
    best = dict.fromkeys(starts, 0)
    todo = deque(best)
    while todo:
        here = todo.popleft()
        for there in near.get(here, ()):
            joint = conductors[here].strip is not None and conductors[there].strip is not None
            cost = best[here] + joint
            if there not in best or cost < best[there]:
                best[there] = cost
                if joint:
                    todo.append(there)
                else:
                    todo.appendleft(there)
    return best
