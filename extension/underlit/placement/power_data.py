"""What placing a battery starts from and what it gives. Page mm; angles clockwise, in degrees."""

from __future__ import annotations

from collections.abc import Mapping

from shapely.geometry.base import BaseGeometry

from ..model.card import Opening, Part, Sheet
from ..records import record
from ..stack import Layers

Point = tuple[float, float]


@record
class Wish:
    """The battery that is to be placed, in a frame of its own: the coin's middle is the origin,
    plus lies towards +x.

    `body` and `pads` (feature name -> area) are its drawn areas. `radius` is the coin's, `height`
    that of the whole part. `collar` and `hole` are the radii of the paper that keeps minus tape off
    a bare battery's rim (0: none), `contact` the radius of the contact on a flap. `up` is the face
    towards the panel (plus | minus), `closes` a word of the conventions. `tab`: a pull tab is
    wanted; one that closes by `tab` cannot do without. `foam` is that of the card with this
    battery on it (None: there is none that does); without names it is the maker's own.
    """

    body: BaseGeometry
    pads: Mapping[str, BaseGeometry]
    bare: bool
    radius: float
    height: float
    closes: str
    up: str = "plus"
    collar: float = 0.0
    hole: float = 0.0
    contact: float = 0.0
    tab: bool = False
    foam: Layers | None = None

    @property
    def upper_pad(self) -> str:
        """The contact on the face towards the panel."""
        return "negative-pad" if self.up == "minus" else "positive-pad"


@record
class Ground:
    """The card on which it is placed: what is there, and what has to stay free.

    `panel` and `base` are filled areas; of openings counts what stays open. `others` are parts
    that are no lights. `joints` are the overlaps of tape, `folds` the lines of folds there.
    """

    panel: BaseGeometry
    base: BaseGeometry
    openings: tuple[Opening, ...]
    lights: tuple[Part, ...]
    others: tuple[Part, ...]
    foam: tuple[Sheet, ...]
    joints: BaseGeometry
    folds: BaseGeometry


@record
class Ring:
    """A foam ring round a spot to press: `inside` and `outside` are diameters.

    `foams` are the layers (names in the profile), `travel` what the panel goes down until it meets
    the battery, once the foam has settled. `area` is open where a pull tab passes.
    """

    inside: float
    outside: float
    foams: tuple[str, ...]
    thickness: float
    travel: float
    area: BaseGeometry


@record
class Fold:
    """The fold of a flap, `distance` from the battery's middle, and where its contact lies open.

    `angle` is the direction from the battery to the flap; `moving` is what folds over.
    """

    start: Point
    end: Point
    distance: float
    angle: float
    contact: Point
    moving: BaseGeometry


@record
class Tab:
    """A pull tab: from `back` behind `at` to `length` before it, in direction `angle`.

    `out` is how far it stands out beyond the last edge. `foam` are objects that it passes.
    """

    at: Point
    angle: float
    length: float
    back: float
    width: float
    out: float
    area: BaseGeometry
    foam: tuple[str, ...]


@record
class PowerPlace:
    """A battery in its place. `collar` is the paper that keeps minus tape off the rim."""

    at: Point
    angle: float
    ring: Ring | None
    fold: Fold | None
    tab: Tab | None
    collar: BaseGeometry | None


@record
class Hindrance:
    """A reason against a place, in words with figures, and whether foam has to do with it."""

    words: str
    foam: bool


@record
class NoPlace:
    """Why it does not fit, and where nearest it would fit."""

    hindrances: tuple[Hindrance, ...]
    nearest: Point | None

    @property
    def reasons(self) -> tuple[str, ...]:
        """Sentences with figures."""
        return tuple(one.words for one in self.hindrances)

    @property
    def foam(self) -> bool:
        """Whether foam has to do with it."""
        return any(one.foam for one in self.hindrances)
