"""What routing hands back: strips in laying order, or why there is no room."""

from __future__ import annotations

from collections.abc import Mapping

from ..records import record


@record
class Strip:
    """A strip to lay: a polyline stroked with butt ends and round corners, page mm.

    `joint` is "folded-end" where its first end must be folded over to conduct.
    """

    points: tuple[tuple[float, float], ...]
    width: float
    polarity: str
    joint: str | None = None


@record
class Patch:
    """Insulating paper over a crossing, page mm; it is laid before strip number `before`."""

    corners: tuple[tuple[float, float], ...]
    before: int


@record
class Place:
    """A place under one of the aims: what (gap | edge | pad | joint), where, have and aim."""

    what: str
    at: tuple[float, float]
    have: float
    aim: float


@record
class Figures:
    """Length (mm), pieces, straight runs and folds; joints in series of each light.

    `reference` is the length of the Steiner trees of both sides without obstacles; it is no
    strict bound.
    """

    length: float
    pieces: int
    runs: int
    folds: int
    joints: Mapping[str, int]
    reference: float

    @property
    def ratio(self) -> float:
        """Length over the reference length."""
        return self.length / self.reference if self.reference > 0.0 else 1.0


@record
class Layout:
    """A valid layout. `angles` turns each light (degrees); `under_aims` lists compromises."""

    strips: tuple[Strip, ...]
    angles: Mapping[str, float]
    figures: Figures
    under_aims: tuple[Place, ...] = ()
    cost: float = 0.0
    #: cut off by the clock before the effort was spent
    ended: bool = False
    patches: tuple[Patch, ...] = ()


@record
class NoRoom:
    """A pad that cannot be reached: the neck is at `at`, `needed` and `available` in mm."""

    light: str
    pad: str
    at: tuple[float, float]
    between: tuple[str, str]
    needed: float
    available: float
    cures: tuple[str, ...] = ()


@record
class Refusal:
    """No layout: what is wrong with the input, and each pad that was cut off."""

    reasons: tuple[str, ...] = ()
    pads: tuple[NoRoom, ...] = ()
