"""Everything that a rule may look at. Rules judge; they change nothing."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cached_property
from typing import TYPE_CHECKING

import shapely
from shapely.geometry.base import BaseGeometry

from ..records import record
from ..units import TOLERANCE
from .card import Card, Incomplete, Part
from .circuit import Circuit, Conductor
from .drawing import Layer, Remark, Shape
from .finding import Finding
from .glow import Glow
from .naming import ALONE, AT, INNER, OF, Forms, named
from .operation import PRESSED, Change, LightFlow, Operation, Supply

if TYPE_CHECKING:
    from ..profiles import Profile

#: A light counts as lit above this (A): 0.05 mA.
LIT = 5e-5


@record
class Facts:
    """What reading noticed: half parts, stray features, sketches, remarks, layers, findings."""

    incomplete: tuple[Incomplete, ...]
    strays: tuple[tuple[Shape, ...], ...]
    sketches: tuple[Shape, ...]
    remarks: tuple[Remark, ...]
    layers: tuple[Layer, ...]
    found: tuple[Finding, ...]
    #: roles of layers on which at least one object lies
    used: frozenset[str]


def _unseen(_: Case) -> Glow:
    return Glow()


@record
class Case:
    """One card to be judged. `shine` computes how it glows, when a rule first asks."""

    card: Card
    circuit: Circuit
    profile: Profile
    facts: Facts
    shine: Callable[[Case], Glow] = _unseen
    #: computes currents; None where nobody asks for them
    supply: Supply | None = None

    @cached_property
    def operation(self) -> Operation | None:
        """What flows with every switch closed, shorts open and weak overlaps mended: the rules
        judge this, since shorts and weak overlaps have rules of their own."""
        if self.supply is None or not (self.powered and self.card.lights):
            return None
        return self.supply.operate(Change())

    @cached_property
    def drawn_operation(self) -> Operation | None:
        """The same as drawn, shorts and weak overlaps as they are: the report says this."""
        if self.supply is None or not (self.powered and self.card.lights):
            return None
        if self.circuit.shorts or self._weak:
            return self.supply.operate(Change(drawn=True, mended=False))
        return self.operation

    @property
    def _weak(self) -> bool:
        """Whether some overlap or foot is smaller than the rules ask for."""
        limits, conductors = self.profile.limits, self.circuit.conductors
        for contact in self.circuit.contacts:
            upper, lower = conductors[contact.upper], conductors[contact.lower]
            assert lower.strip is not None
            width = lower.strip.width
            foot = math.inf if upper.part is None else float(upper.geometry.area)
            if upper.strip is not None:
                width = min(width, upper.strip.width)
            if contact.area < min(limits.pad_cover * foot, limits.joint_cover * width**2):
                return True
        return False

    @cached_property
    def lit(self) -> frozenset[str]:
        """Lights in a closed loop the right way round, that get more than `LIT` there."""
        flows = self.drawn_operation.lights if self.drawn_operation is not None else {}
        return frozenset(
            name
            for name in self.circuit.lit
            if name not in flows or flows[name].amps[PRESSED] > LIT
        )

    @cached_property
    def pressed_ma(self) -> dict[str, float]:
        """Light -> mA at the moment of pressing, of those that burn as drawn."""
        flows = self.drawn_operation.lights if self.drawn_operation is not None else {}
        return {name: 1e3 * flows[name].amps[PRESSED] for name in flows if name in self.lit}

    @cached_property
    def fed(self) -> tuple[tuple[Part, LightFlow], ...]:
        """Lights with a closed way from the battery (shorts open), and what they get."""
        if self.operation is None:
            return ()
        flows = self.operation.lights
        fine = (light for light in self.card.lights if light.id in flows)
        return tuple(
            (light, flows[light.id])
            for light in fine
            if light.id in self.circuit.closed and self._right_way(light)
        )

    def _right_way(self, light: Part) -> bool:
        """Whether both feet lie on nets of their own that are fed, and not the wrong way round."""
        plus, minus = (self.circuit.pad_net(light, pad) for pad in ("positive-pad", "negative-pad"))
        reversed_ = plus.polarity == "negative" or minus.polarity == "positive"
        return plus is not minus and plus.fed and minus.fed and not reversed_

    @cached_property
    def powered(self) -> bool:
        """Whether there is a battery that nets can be judged by."""
        return bool(self.card.cells)

    @cached_property
    def bodies(self) -> tuple[Part, ...]:
        """Parts whose bodies take room (a pull tab is meant to lie under a cell)."""
        card = self.card
        return card.lights + card.cells + card.switches + card.resistors

    @cached_property
    def panel(self) -> BaseGeometry:
        """All panels as one filled area."""
        return shapely.union_all([panel.outline for panel in self.card.panels])

    @cached_property
    def apart(self) -> bool:
        """Base and panel do not lie over each other: windows cannot be judged."""
        card = self.card
        if not (card.base_drawn and card.panels):
            return False
        return float(shapely.area(shapely.intersection(card.base, self.panel))) <= TOLERANCE

    @cached_property
    def glow(self) -> Glow:
        """The openings that are lit unevenly."""
        return self.shine(self)

    @cached_property
    def contacts_of(self) -> dict[int, list[int]]:
        """Conductor number -> its live contacts."""
        found: dict[int, list[int]] = {}
        for i in self.circuit.live:
            contact = self.circuit.contacts[i]
            found.setdefault(contact.upper, []).append(i)
            found.setdefault(contact.lower, []).append(i)
        return found

    @cached_property
    def signs(self) -> tuple[str | None, ...]:
        """positive | negative | None of every conductor.

        Without any battery on the card, a net whose labels and lights agree is taken at
        their word, so that gaps can be judged before the battery is placed.
        """
        circuit = self.circuit
        if self.powered:
            kept = {"positive": "positive", "negative": "negative"}
            return tuple(kept.get(circuit.nets[n].polarity) for n in circuit.net_of)
        return self._agreed

    @cached_property
    def meant(self) -> tuple[str | None, ...]:
        """As `signs`; of a net that no battery reaches yet what its labels and lights agree on."""
        pairs = zip(self.signs, self._agreed, strict=True)
        return tuple(sign or agreed for sign, agreed in pairs)

    @cached_property
    def _agreed(self) -> tuple[str | None, ...]:
        """Of every conductor what the labels and lights of its net agree on."""
        circuit = self.circuit
        by_net = [_presumed(circuit, net.conductors) for net in circuit.nets]
        return tuple(by_net[n] for n in circuit.net_of)

    def strips_of(self, sign: str) -> shapely.STRtree:
        """All strips of one side, to look for the nearest."""
        return self._strip_trees[sign]

    @cached_property
    def _strip_trees(self) -> dict[str, shapely.STRtree]:
        sides: dict[str, list[BaseGeometry]] = {"positive": [], "negative": []}
        for conductor, sign in zip(self.circuit.conductors, self.signs, strict=True):
            if conductor.strip is not None and sign is not None:
                sides[sign].append(conductor.geometry)
        return {sign: shapely.STRtree(areas) for sign, areas in sides.items()}

    def call(self, part: Part) -> str:
        """What a maker calls a part: "Light 4" in drawing order, "Battery" when alone."""
        return self._named(part, ALONE)

    def inner(self, part: Part) -> str:
        """The same inside a sentence, as its subject: "light 4", "the battery"."""
        return self._named(part, INNER)

    def of(self, part: Part) -> str:
        """Whose something is: "of light 4", "of the battery"."""
        return self._named(part, OF)

    def at(self, part: Part) -> str:
        """Where something is: "at light 4", "at the battery"."""
        return self._named(part, AT)

    def number(self, part: Part) -> int:
        """Its number among the parts of its kind, in drawing order."""
        return self._numbers[part.id][0]

    def _named(self, part: Part, forms: Forms) -> str:
        number, alone = self._numbers[part.id]
        return named(part.kind, number, alone, forms)

    @cached_property
    def _numbers(self) -> dict[str, tuple[int, bool]]:
        """Part id -> its number among its kind, and whether it is the only one."""
        card = self.card
        return {
            part.id: (number, len(kind) == 1)
            for kind in (card.lights, card.cells, card.switches, card.resistors, card.pull_tabs)
            for number, part in enumerate(kind, 1)
        }


def _presumed(circuit: Circuit, group: tuple[int, ...]) -> str | None:
    hints = {_hint(circuit.conductors[i]) for i in group} - {None}
    return next(iter(hints)) if len(hints) == 1 else None


def _hint(conductor: Conductor) -> str | None:
    if conductor.strip is not None:
        return conductor.strip.polarity
    if conductor.part is not None and conductor.part.kind == "light":
        return "positive" if conductor.pad == "positive-pad" else "negative"
    return None
