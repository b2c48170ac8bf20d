"""The whole electrical reading of a card in one go."""

from __future__ import annotations

from collections.abc import Sequence

from ..model.card import PADS, Card, Part
from ..model.circuit import Circuit, Conductor
from .contacts import conductors_of, find_contacts
from .nets import breaks_itself, lit_lights, nets_of
from .shorts import find_shorts


def read_circuit(card: Card, adhesive_conducts: bool) -> Circuit:
    """Contacts, nets and shorts of a card with every switch closed."""
    conductors = conductors_of(card)
    contacts = find_contacts(card, conductors, adhesive_conducts)
    index = _pad_index(conductors)
    bridges = _ends(index, card.switches)
    resistors, lights = _ends(index, card.resistors), _ends(index, card.lights)
    shorts = find_shorts(conductors, contacts, bridges, resistors, lights)
    opened = {i for short in shorts for i in short.contacts}
    live = tuple(i for i, c in enumerate(contacts) if c.conducts and i not in opened)
    pairs = [(contacts[i].upper, contacts[i].lower) for i in live]
    nets, net_of = nets_of(conductors, pairs + bridges, resistors, lights)
    drawn, drawn_of = nets, net_of
    if shorts:
        whole = [(c.upper, c.lower) for c in contacts if c.conducts]
        drawn, drawn_of = nets_of(conductors, whole + bridges, resistors, lights)
    return Circuit(
        conductors=conductors,
        contacts=contacts,
        live=live,
        shorts=shorts,
        drawn=drawn,
        nets=nets,
        net_of=net_of,
        lit=_lit(card, card.cells, index, drawn_of),
        closed=_lit(card, card.cells, index, net_of),
        always=_always(card, conductors, pairs, index),
        pad_index=index,
    )


def _pad_index(conductors: Sequence[Conductor]) -> dict[tuple[str, str], int]:
    return {(c.part.id, str(c.pad)): i for i, c in enumerate(conductors) if c.part is not None}


def _ends(index: dict[tuple[str, str], int], parts: Sequence[Part]) -> list[tuple[int, int]]:
    """Conductor numbers of the two pads of each part."""
    return [
        (index[part.id, PADS[part.kind][0]], index[part.id, PADS[part.kind][1]]) for part in parts
    ]


def _lit(
    card: Card,
    cells: Sequence[Part],
    index: dict[tuple[str, str], int],
    net_of: Sequence[int],
) -> frozenset[str]:
    def nets(parts: Sequence[Part]) -> list[tuple[int, int]]:
        return [(net_of[a], net_of[b]) for a, b in _ends(index, parts)]

    lights = [(part.id, a, b) for part, (a, b) in zip(card.lights, nets(card.lights), strict=True)]
    return lit_lights(lights, nets(card.resistors), nets(cells))


def _always(
    card: Card,
    conductors: Sequence[Conductor],
    pairs: Sequence[tuple[int, int]],
    index: dict[tuple[str, str], int],
) -> frozenset[str]:
    """Cells that feed a light with every switch open."""
    unbroken = [cell for cell in card.cells if not breaks_itself(cell, card)]
    if not unbroken:
        return frozenset()
    _, net_of = nets_of(conductors, pairs, [], [])
    return frozenset(cell.id for cell in unbroken if _lit(card, [cell], index, net_of))
