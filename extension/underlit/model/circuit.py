"""What is joined to what: conductors, contacts, nets, shorts. Page mm.

Conductors are numbered: strips first, in laying order, then the pads of parts in the order
light, cell, switch, resistor and there in drawing order.
"""

from __future__ import annotations

from shapely.geometry.base import BaseGeometry

from ..records import record
from .card import Part, Strip

SIGN = {"positive-pad": "positive", "negative-pad": "negative"}


@record
class Conductor:
    """A strip, or one pad of a part (`pad` is its feature name)."""

    geometry: BaseGeometry
    strip: Strip | None
    part: Part | None
    pad: str | None

    @property
    def name(self) -> str:
        return self.strip.name if self.strip is not None else self.part.id  # type: ignore[union-attr]


@record
class Contact:
    """One connected place where two conductors meet, no patch between.

    `place` is the overlap (a polygon), or the line or point where they only touch; `area`
    is 0 there. `conducts` is false where the adhesive between two strips does not.
    """

    upper: int
    lower: int
    place: BaseGeometry
    area: float
    at: tuple[float, float]
    conducts: bool


@record
class Net:
    """Conductors joined together with every switch closed.

    polarity: positive | negative | both | none. `fed` is false where it floats: no way to
    a cell even through parts, or hanging on one light only.
    """

    polarity: str
    fed: bool
    conductors: tuple[int, ...]


@record
class Short:
    """One place where plus and minus were joined, and the contacts that do it.

    `guess`: nothing but the cell says what is plus, so the place is the likeliest one.
    """

    contacts: tuple[int, ...]
    place: BaseGeometry
    at: tuple[float, float]
    guess: bool
    cells_in_row: bool


@record
class Circuit:
    """The electrical reading of a card.

    `drawn` are the nets as drawn, shorts included (for the report). `nets` are those with
    the contacts of `shorts` open: every rule judges these. `net_of[i]` is the index into
    `nets` of conductor i; `lit` names the lights that lie, as drawn, in a closed loop the right
    way round; `closed` the same with the shorts open;
    `always` the cells whose lights burn with every switch open. `live` are the indices of
    contacts that conduct and belong to no short.
    """

    conductors: tuple[Conductor, ...]
    contacts: tuple[Contact, ...]
    live: tuple[int, ...]
    shorts: tuple[Short, ...]
    drawn: tuple[Net, ...]
    nets: tuple[Net, ...]
    net_of: tuple[int, ...]
    lit: frozenset[str]
    closed: frozenset[str]
    always: frozenset[str]
    #: (part id, pad) -> conductor number
    pad_index: dict[tuple[str, str], int]

    def pad_net(self, part: Part, pad: str) -> Net:
        """The net on which a pad lies (a bare pad is a net of its own)."""
        return self.nets[self.net_of[self.pad_index[part.id, pad]]]
