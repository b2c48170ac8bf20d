"""Polarity of nets, which of them float, and which lights lie in a closed loop."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..model.card import Card, Part
from ..model.circuit import Conductor, Net
from .evidence import cell_signs
from .groups import connected, members

#: A part between two nets: (part id, net of its first pad, net of its second pad).
Link = tuple[str, int, int]


def nets_of(
    conductors: Sequence[Conductor],
    pairs: Iterable[tuple[int, int]],
    resistors: Sequence[tuple[int, int]],
    lights: Sequence[tuple[int, int]],
) -> tuple[tuple[Net, ...], tuple[int, ...]]:
    """Nets and the net of each conductor.

    `pairs` join conductors; `resistors` and `lights` are the conductor numbers of their two
    pads (a light's plus pad first).
    """
    labels = connected(len(conductors), pairs)
    groups = members(labels)
    number = {label: i for i, label in enumerate(groups)}
    net_of = tuple(number[label] for label in labels)
    signs = [cell_signs(conductors, group) for group in groups.values()]
    polarity = [_own_polarity(sign) for sign in signs]
    rungs = [(net_of[a], net_of[b]) for a, b in resistors]
    _through_resistors(polarity, rungs)
    fed = _fed(polarity, rungs, [(net_of[a], net_of[b]) for a, b in lights])
    nets = tuple(
        Net(p or "none", f, tuple(group))
        for p, f, group in zip(polarity, fed, groups.values(), strict=True)
    )
    return nets, net_of


def _own_polarity(signs: set[str]) -> str | None:
    return "both" if len(signs) == 2 else next(iter(signs), None)


def _through_resistors(polarity: list[str | None], rungs: Sequence[tuple[int, int]]) -> None:
    """Give nets that only resistors reach the one side they are reached from, in place."""
    if not rungs:
        return
    open_nets = [i for i, p in enumerate(polarity) if p is None]
    inner = set(open_nets)
    labels = connected(len(polarity), [r for r in rungs if r[0] in inner and r[1] in inner])
    reached: dict[int, set[str]] = {}
    for a, b in rungs:
        for here, there in ((a, b), (b, a)):
            if here in inner and there not in inner:
                reached.setdefault(labels[here], set()).add(str(polarity[there]))
    for i in open_nets:
        sides = reached.get(labels[i], set())
        if sides:
            polarity[i] = next(iter(sides)) if len(sides) == 1 else "none"


def _fed(
    polarity: Sequence[str | None],
    rungs: Sequence[tuple[int, int]],
    lights: Sequence[tuple[int, int]],
) -> list[bool]:
    """A net without a side of its own is fed where it lies on a way from plus to minus."""
    fed = [p is not None for p in polarity]
    between = {i for link in (*rungs, *lights) for i in link if polarity[i] is None}
    if between:
        for i in _on_the_way(polarity, (*rungs, *lights)) & between:
            fed[i] = True
    return fed


def _on_the_way(polarity: Sequence[str | None], links: Sequence[tuple[int, int]]) -> set[int]:
    if not {"positive", "negative"} <= set(polarity):
        return set()
    import networkx as nx  # late: only cards with lights in a row come here

    ends = {"positive": "plus", "negative": "minus"}
    graph = nx.Graph([("plus", "minus")])
    for a, b in links:
        graph.add_edge(ends.get(polarity[a] or "", a), ends.get(polarity[b] or "", b))
    for block in nx.biconnected_components(graph):
        if "plus" in block and "minus" in block:
            return {i for i in block if isinstance(i, int)}
    return set()


def lit_lights(
    lights: Sequence[Link],
    resistors: Sequence[tuple[int, int]],
    cells: Sequence[tuple[int, int]],
) -> frozenset[str]:
    """Lights on a way from a cell's plus to the same cell's minus, each the right way round.

    `cells` are (net of the plus pad, net of the minus pad) of cells that are switched on.
    """
    forward: dict[int, list[int]] = {}
    for _, plus, minus in lights:
        forward.setdefault(plus, []).append(minus)
    for a, b in resistors:
        forward.setdefault(a, []).append(b)
        forward.setdefault(b, []).append(a)
    backward: dict[int, list[int]] = {}
    for a, targets in forward.items():
        for b in targets:
            backward.setdefault(b, []).append(a)
    lit: set[str] = set()
    for plus, minus in cells:
        if plus == minus:
            continue
        down, up = _reach(forward, plus, minus), _reach(backward, minus, plus)
        lit |= {
            name
            for name, a, b in lights
            if a in down and b in up and _passes((a, b), (plus, minus), forward, backward)
        }
    return frozenset(lit)


def _passes(
    light: tuple[int, int],
    cell: tuple[int, int],
    forward: dict[int, list[int]],
    backward: dict[int, list[int]],
) -> bool:
    """Whether a way through a light visits no net twice (one against its neighbour does)."""
    (a, b), (plus, minus) = light, cell
    if a in (b, minus) or b == plus:
        return False
    return _leads(backward, a, plus, b) and _leads(forward, b, minus, a)


def _leads(ways: dict[int, list[int]], start: int, goal: int, without: int) -> bool:
    """Whether a way leads from one net to another that does not pass a third."""
    seen, todo = {start, without}, [start]
    while todo:
        here = todo.pop()
        if here == goal:
            return True
        for there in ways.get(here, ()):
            if there not in seen:
                seen.add(there)
                todo.append(there)
    return False


def _reach(ways: dict[int, list[int]], start: int, stop: int) -> set[int]:
    """What can be reached from a net; the way ends at `stop`."""
    seen, todo = {start}, [start]
    while todo:
        here = todo.pop()
        for there in ways.get(here, ()):
            if there not in seen:
                seen.add(there)
                if there != stop:
                    todo.append(there)
    return seen


def breaks_itself(cell: Part, card: Card) -> bool:
    """Whether a cell is off until somebody does something to the cell itself.

    press, slide, open and flap break at the cell (a flap needs its fold line); a tab breaks
    while a pull tab lies there; `always` never does. A cell that says nothing is a press.
    """
    closes = cell.attributes.get("closes", "press")
    if closes == "flap":
        return any(fold.cell == cell.id for fold in card.folds)
    if closes == "tab":
        return any(tab.body.intersects(cell.body) for tab in card.pull_tabs)
    return closes != "always"
