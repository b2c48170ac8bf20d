"""Where a short was made.

A net that carries evidence of both signs is cut between them at the least cost, which is
compared in this order (drawing conventions, section 5): evidence overruled, contacts opened,
end overlaps opened rather than crossings (only where nothing but the cell is evidence),
area opened. This is a minimum cut between plus and minus evidence; networkx does the cut and
is imported only where there is something to cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import shapely
from shapely.geometry import Point

from ..model.circuit import Conductor, Contact, Short
from ..units import TOLERANCE
from .evidence import cell_sign, cell_signs, labels, weak_sign
from .groups import connected, members

#: Cost of one overlapping area unit (0.001 mm2), of an end overlap, of a contact, of a hint.
AREA_CAP, END, CONTACT, HINT = 10**6, 10**7, 10**9, 10**15

Edge = tuple[int, int]


def find_shorts(
    conductors: Sequence[Conductor],
    contacts: Sequence[Contact],
    bridges: Sequence[Edge],
    resistors: Sequence[Edge] = (),
    lights: Sequence[Edge] = (),
) -> tuple[Short, ...]:
    """The places that join plus to minus; `bridges` are closed switches (pad to pad).

    A bridge behind a resistor joins no two battery feet, but both feet of lights: there the
    resistor's foot stands for the battery foot beyond it. `resistors` and `lights` are the
    conductor numbers of their two pads.
    """
    live = [i for i, contact in enumerate(contacts) if contact.conducts]
    pairs = [(contacts[i].upper, contacts[i].lower) for i in live] + list(bridges)
    label = connected(len(conductors), pairs)
    groups = members(label)
    dark = {label[a] for a, b in lights if label[a] == label[b]}
    beyond = _beyond(conductors, groups, label, resistors) if dark and resistors else {}
    found: list[Short] = []
    for name, group in groups.items():
        further = {i: beyond[i] for i in group if i in beyond} if name in dark else {}
        signs = cell_signs(conductors, group) | set(further.values())
        if len(signs) < 2 and not is_shorted(conductors, group):
            continue
        inside = set(group)
        here = [i for i in live if contacts[i].upper in inside]
        joined = [edge for edge in bridges if edge[0] in inside]
        found += _cut(conductors, contacts, group, here, joined, further)
    return tuple(sorted(found, key=lambda short: short.contacts))


def _beyond(
    conductors: Sequence[Conductor],
    groups: Mapping[int, Sequence[int]],
    label: Sequence[int],
    resistors: Sequence[Edge],
) -> dict[int, str]:
    """A resistor's foot -> the one battery side on the net of its other foot."""
    found: dict[int, str] = {}
    for a, b in resistors:
        for here, there in ((a, b), (b, a)):
            signs = cell_signs(conductors, groups[label[there]])
            if len(signs) == 1 and label[here] != label[there]:
                found[here] = next(iter(signs))
    return found


def is_shorted(conductors: Sequence[Conductor], group: Iterable[int]) -> bool:
    """Plus and minus of a battery on one net, or of labels where no battery is on it."""
    group = list(group)
    signs = cell_signs(conductors, group)
    return len(signs) == 2 or (not signs and len(labels(conductors, group)) == 2)


def _cut(
    conductors: Sequence[Conductor],
    contacts: Sequence[Contact],
    group: Sequence[int],
    here: Sequence[int],
    bridges: Sequence[Edge],
    further: Mapping[int, str],
) -> list[Short]:
    import networkx as nx  # late: costs 0.1 s and only a short needs it

    blind = not any(weak_sign(conductors[i]) and _has_contact(contacts, here, i) for i in group)
    degree = _degrees(contacts, here)
    graph = nx.DiGraph()
    for i in group:
        _add_evidence(graph, conductors[i], i)
    for i, sign in further.items():
        _terminal(graph, i, sign, None)
    for i in here:
        a, b = contacts[i].upper, contacts[i].lower
        if _is_leaf_of_light(conductors, degree, a):
            _join(graph, a, b, None)
        else:
            _join(graph, a, b, _cost(conductors, contacts[i], blind))
    for a, b in bridges:
        _join(graph, a, b, None)
    _, (plus, _minus) = nx.minimum_cut(graph, "plus", "minus")
    opened = [i for i in here if (contacts[i].upper in plus) != (contacts[i].lower in plus)]
    row = len({id(c.part) for i in group if cell_sign(c := conductors[i])}) > 1
    return _places(conductors, contacts, opened, blind, row)


def _has_contact(contacts: Sequence[Contact], here: Sequence[int], i: int) -> bool:
    return any(i in (contacts[k].upper, contacts[k].lower) for k in here)


def _degrees(contacts: Sequence[Contact], here: Sequence[int]) -> dict[int, set[int]]:
    near: dict[int, set[int]] = {}
    for i in here:
        near.setdefault(contacts[i].upper, set()).add(contacts[i].lower)
        near.setdefault(contacts[i].lower, set()).add(contacts[i].upper)
    return near


def _is_leaf_of_light(conductors: Sequence[Conductor], degree: dict[int, set[int]], i: int) -> bool:
    """A light's pad on one strip joins nothing: it is a hint about that strip, not a short."""
    part = conductors[i].part
    return part is not None and part.kind == "light" and len(degree[i]) == 1


def _add_evidence(graph, conductor: Conductor, i: int) -> None:  # type: ignore[no-untyped-def]
    fixed, hint = cell_sign(conductor), weak_sign(conductor)
    graph.add_node(i)
    if fixed is not None:
        _terminal(graph, i, fixed, None)
    elif hint is not None:
        _terminal(graph, i, hint, HINT)


def _terminal(graph, i: int, sign: str, capacity: int | None) -> None:  # type: ignore[no-untyped-def]
    ends = ("plus", i) if sign == "positive" else (i, "minus")
    if capacity is None:
        graph.add_edge(*ends)
    else:
        graph.add_edge(*ends, capacity=capacity)


def _join(graph, a: int, b: int, cost: int | None) -> None:  # type: ignore[no-untyped-def]
    for ends in ((a, b), (b, a)):
        if cost is None:
            graph.add_edge(*ends)
            graph.edges[ends].pop("capacity", None)
        elif graph.has_edge(*ends):
            if "capacity" in graph.edges[ends]:
                graph.edges[ends]["capacity"] += cost
        else:
            graph.add_edge(*ends, capacity=cost)


def _cost(conductors: Sequence[Conductor], contact: Contact, blind: bool) -> int:
    end = blind and any(_at_end(conductors[i], contact) for i in (contact.upper, contact.lower))
    return CONTACT + (END if end else 0) + min(int(contact.area * 1000.0), AREA_CAP)


def _at_end(conductor: Conductor, contact: Contact) -> bool:
    """Whether a contact lies on an end of a strip (a pad is always an end)."""
    strip = conductor.strip
    if strip is None:
        return True
    if strip.line is None:
        return False
    near = strip.width / 2.0 + TOLERANCE
    ends = (strip.line.coords[0], strip.line.coords[-1])
    return any(contact.place.distance(Point(end)) < near for end in ends)


def _places(
    conductors: Sequence[Conductor],
    contacts: Sequence[Contact],
    opened: Sequence[int],
    blind: bool,
    row: bool,
) -> list[Short]:
    """One short per connected place: contacts that touch each other are one."""
    close = [
        (a, b)
        for a in range(len(opened))
        for b in range(a)
        if shapely.dwithin(contacts[opened[a]].place, contacts[opened[b]].place, TOLERANCE)
    ]
    shorts = []
    for group in members(connected(len(opened), close)).values():
        numbers = tuple(opened[i] for i in group)
        place = shapely.union_all([contacts[i].place for i in numbers])
        centre = place.centroid
        shorts.append(Short(numbers, place, (centre.x, centre.y), blind, row))
    return shorts
