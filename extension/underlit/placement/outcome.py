"""What placing takes and gives: the ground to place on, the wish, placed lights, unlit openings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from shapely.geometry.base import BaseGeometry

from ..model.card import Opening
from ..profiles import LightType
from ..records import record

#: Why an opening stays without a light, or with fewer than asked for.
REASONS = ("covered", "too-small", "battery", "no-base", "off-base", "no-room", "fewer")


@record
class Taken:
    """Room that is taken: a part's body (a battery with its ring), something locked (page mm).

    A light that lies there already also has its feet, so that room for tape is kept to them. Where
    the area is `core` with `margin` round it, distances are told from the core.
    """

    name: str
    area: BaseGeometry
    plus: BaseGeometry | None = None
    minus: BaseGeometry | None = None
    core: BaseGeometry | None = None
    margin: float = 0.0


@record
class Tapes:
    """Tape that lies there already, by the side of the battery that it leads to (page mm)."""

    plus: BaseGeometry
    minus: BaseGeometry
    unknown: BaseGeometry


@record
class Ground:
    """Where lights may go: the back sheet, what is taken on it, and all openings of the card.

    Feet keep off tape of the other side, bodies off tape of neither, where there is any room.
    """

    base: BaseGeometry
    taken: tuple[Taken, ...]
    openings: tuple[Opening, ...]
    tapes: Tapes | None = None


@record
class Wish:
    """What the maker wants.

    `count` lights per opening, None by length. `turn`: "free", "45" (multiples of it) or an angle
    in degrees; `locked` are angles by name of opening that go first. `most`: lights in all where
    the count goes by length, None without limit.
    """

    kind: str
    light: LightType
    count: int | None = 1
    turn: str | float = "free"
    most: int | None = None
    locked: Mapping[str, float] = field(default_factory=dict)


@record
class Placed:
    """A light: its lens centre (page mm), its turn, and how well it shines through.

    `angle_deg` points from the minus to the plus foot, clockwise on screen. `clearance` is the
    distance of the lens centre from the edge of what stays open (mm), `visible` the share of the
    lens that is seen. `room`: aim | limit | tight, how much of the wanted hand room it has.
    `across`: it lies on tape that it should keep off.
    """

    kind: str
    at: tuple[float, float]
    angle_deg: float
    opening: str
    number: int
    clearance: float
    visible: float
    room: str
    across: bool = False


@record
class Unlit:
    """An opening without a light, or with fewer than asked for.

    `measured` against `needed`, both in mm: too-small: width of the widest place and of the lens;
    off-base: how far the body would hang over the back sheet, and 0; no-base (there is none): 0
    and 0; no-room: the distance to `blocker`, and what hands and tape need; covered: 0 and the
    lens. As numbers of lights: fewer: lights placed and asked for; battery: lights that it feeds
    and that were wanted. `because` says of fewer what is in the way of one more (off-base or
    no-room) where it would fit best.
    """

    opening: str
    number: int
    at: tuple[float, float]
    reason: str
    measured: float
    needed: float
    blocker: str | None = None
    because: Unlit | None = None


@record
class Placement:
    """Placed lights in the order of their openings, and unlit openings.

    Where the battery feeds only `most` more, `proposed` is how many there would be by length.
    """

    lights: tuple[Placed, ...]
    unlit: tuple[Unlit, ...]
    proposed: int | None = None
    most: int | None = None


def unlit(
    opening: Opening,
    reason: str,
    measured: float,
    needed: float,
    at: tuple[float, float] | None = None,
    blocker: str | None = None,
) -> Unlit:
    """An opening that stays dark, told of at `at` or in its middle."""
    place = at or opening.at
    return Unlit(opening.name, opening.number, place, reason, measured, needed, blocker)
