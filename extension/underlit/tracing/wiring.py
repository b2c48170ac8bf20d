"""The wiring of a card with one thing changed: which lights would shine then."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property

from ..connectivity.groups import connected
from ..connectivity.nets import lit_lights
from ..model.card import PADS, Card, Part
from ..model.circuit import Circuit
from ..records import record

Pair = tuple[int, int]


@record
class Wiring:
    """A card as drawn (shorts open), asked again and again with one change."""

    card: Card
    circuit: Circuit

    @cached_property
    def joins(self) -> tuple[Pair, ...]:
        """Conductor numbers of every live contact, in order of `Circuit.live`."""
        contacts = self.circuit.contacts
        return tuple((contacts[i].upper, contacts[i].lower) for i in self.circuit.live)

    @cached_property
    def shining(self) -> frozenset[str]:
        """Lights that shine when all is well."""
        return self.lit(self.joins)

    @cached_property
    def by_cell(self) -> dict[str, frozenset[str]]:
        """Cell -> the lights that it alone makes shine."""
        return {cell.id: self.lit(self.joins, cells=[cell]) for cell in self.card.cells}

    def lit(
        self, joins: Iterable[Pair], more: int = 0, cells: Sequence[Part] | None = None
    ) -> frozenset[str]:
        """Lights that shine with other contacts; `more` conductors are added behind all."""
        count = len(self.circuit.conductors) + more
        net_of = connected(count, [*joins, *self._ends(self.card.switches)])

        def nets(parts: Sequence[Part]) -> list[Pair]:
            return [(net_of[a], net_of[b]) for a, b in self._ends(parts)]

        lights = zip(self.card.lights, nets(self.card.lights), strict=True)
        return lit_lights(
            [(light.id, a, b) for light, (a, b) in lights],
            nets(self.card.resistors),
            nets(self.card.cells if cells is None else cells),
        )

    def dark_without(self, opened: Iterable[int]) -> frozenset[str]:
        """Lights that go dark when these live contacts (positions in `joins`) do not conduct."""
        out = set(opened)
        return self.shining - self.lit(j for i, j in enumerate(self.joins) if i not in out)

    def dark_with(self, first: int, second: int) -> frozenset[str]:
        """Lights that go dark when two conductors touch."""
        return self.shining - self.lit([*self.joins, (first, second)])

    def _ends(self, parts: Sequence[Part]) -> list[Pair]:
        index = self.circuit.pad_index
        return [(index[p.id, PADS[p.kind][0]], index[p.id, PADS[p.kind][1]]) for p in parts]
