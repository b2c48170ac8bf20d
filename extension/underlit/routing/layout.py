"""What routing hands back: strips in laying order, or why there is no room."""

from __future__ import annotations

from collections.abc import Mapping

from ..records import record


@record
class Strip:
    """A strip to lay: a polyline stroked with butt ends and round corners, page mm.

    `joint` is "folded-end" where an end must be folded over to conduct.
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
class Cure:
    """Something that was tried and lets the tape through.

    `kind`: wider (a passage, by `amount` mm) | turn (a light, by degrees) | move (a light, along
    `way` in mm) | narrower (tape of `amount` mm) | paper (`amount` crossings over patches).
    """

    kind: str
    amount: float
    light: str | None = None
    between: tuple[str, str] | None = None
    way: tuple[float, float] | None = None


@record
class NoRoom:
    """A pad that cannot be reached: the neck is at `at`, `needed` and `available` in mm.

    `between` names the two things that leave too little room: by their name or, of lights, parts
    and pinned strips, by their id; None where no neck could be found. `ends` are those of the
    line across the neck, None where there is none to draw.
    """

    light: str
    pad: str
    at: tuple[float, float]
    between: tuple[str, str] | None
    needed: float
    available: float
    cures: tuple[Cure, ...] = ()
    ends: tuple[tuple[float, float], tuple[float, float]] | None = None


@record
class Reason:
    """Something that is wrong before anything is laid, with its place and what it is about.

    `kind`: no-cell | no-light | no-base | light-off-base | feet-too-close | lights-too-close |
    pins-touch. `ends` are those of the line that is too short, None where there is none to draw.
    """

    kind: str
    at: tuple[float, float] | None = None
    about: tuple[str, ...] = ()
    have: float = 0.0
    needed: float = 0.0
    ends: tuple[tuple[float, float], tuple[float, float]] | None = None


@record
class Refusal:
    """No layout: what is wrong with the input, and each pad that was cut off."""

    reasons: tuple[Reason, ...] = ()
    pads: tuple[NoRoom, ...] = ()
