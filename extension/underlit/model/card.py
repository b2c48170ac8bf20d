"""A card as a maker thinks of it: panel, openings, sheets, parts, tape. Page mm.

Every geometry is a valid shapely geometry. `object` is the id that the maker can click;
`name` may add `#n` where one object has several (openings, strips).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from math import isfinite

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from ..records import record


@record
class Panel:
    """The decorated sheet: `outline` is filled (openings not cut), notches already cut."""

    object: str
    outline: BaseGeometry


@record
class Opening:
    """A hole in the panel, or (`through`) an uncut area meant to glow.

    `outline` is the whole hole; `clear` is what stays open once pieces that remain (glued,
    or on a diffuser) are taken off. `number` counts over the card from 1, top to bottom,
    then left to right. `at` lies inside the outline.
    """

    number: int
    name: str
    object: str
    at: tuple[float, float]
    outline: BaseGeometry
    clear: BaseGeometry
    panel: int | None
    through: bool = False


@record
class LoosePiece:
    """A piece of the panel inside an opening. `stays`: glued back, or lies on a diffuser."""

    name: str
    object: str
    at: tuple[float, float]
    outline: BaseGeometry
    panel: int
    opening: int
    stays: bool


@record
class Sheet:
    """One drawn object on base, foam, cover or diffuser: holes already cut."""

    object: str
    role: str
    geometry: BaseGeometry


@record
class Fold:
    """A straight fold line. `cell`: the line is a flap that closes that cell."""

    object: str
    line: LineString
    moves: str
    cell: str | None


@record
class Score:
    """A line of Die cut on a panel that does not close: to be scored or drawn, never cut."""

    object: str
    line: LineString


@record
class Part:
    """A light, cell, switch, resistor or pull tab.

    `features` maps feature name to its (Multi)Polygon in page mm. `scale` are the two
    scale factors it is drawn at against its own size (1, 1 when as good as new).
    """

    id: str
    has_id: bool
    kind: str
    type: str
    index: int
    attributes: Mapping[str, str]
    features: Mapping[str, BaseGeometry]
    scale: tuple[float, float] = (1.0, 1.0)
    mirrored: bool = False

    @property
    def body(self) -> BaseGeometry:
        return self.features["body"]

    @property
    def at(self) -> tuple[float, float]:
        """Its place: the lens of a light, else the body, else whatever it has."""
        for name in ("lens", "body"):
            if name in self.features:
                centre = self.features[name].centroid
                return (centre.x, centre.y)
        centre = next(iter(self.features.values())).centroid
        return (centre.x, centre.y)


@record
class Incomplete:
    """A part that cannot be used: `missing` features, or an unknown kind (then empty)."""

    id: str
    kind: str
    at: tuple[float, float] | None
    missing: tuple[str, ...]


#: The features that each kind of part must have, in the order of reports.
FEATURES = {
    "light": ("positive-pad", "negative-pad", "lens", "body"),
    "cell": ("positive-pad", "negative-pad", "body"),
    "switch": ("contact-1", "contact-2", "body"),
    "resistor": ("contact-1", "contact-2", "body"),
    "pull-tab": ("body",),
}

#: The features that conduct, by kind.
PADS = {
    "light": ("positive-pad", "negative-pad"),
    "cell": ("positive-pad", "negative-pad"),
    "switch": ("contact-1", "contact-2"),
    "resistor": ("contact-1", "contact-2"),
    "pull-tab": (),
}


@record
class Strip:
    """One connected painted piece of tape.

    `order` is its place in the laying order (shared with patches, lowest first). `width` is
    the drawn width of a stroke or twice the largest inscribed radius of a filled area;
    `length` its run (centre line, or area / width). `line` is the centre line of a plain
    stroked polyline, else None. `folds` counts its corners over 10 degrees. `polarity` is the
    maker's or tool's label (positive | negative) or None, `unknown_label` what stands there
    instead; `joint` is folded-end | soldered or None.
    """

    name: str
    object: str
    order: int
    geometry: BaseGeometry
    width: float
    length: float
    folds: int
    line: LineString | None
    stroked: bool
    polarity: str | None
    joint: str | None
    unknown_label: str | None = None

    @property
    def middle(self) -> tuple[float, float]:
        """The place on the strip that is nearest to its middle, to point at."""
        centre = self.geometry.centroid
        if not self.geometry.contains(centre):
            centre = shapely.get_point(shapely.shortest_line(self.geometry, centre), 0)
        return (centre.x, centre.y)


@record
class Patch:
    """An insulating patch in the laying order."""

    name: str
    object: str
    order: int
    geometry: BaseGeometry


@record
class Card:
    """The whole card. `base` is empty only where neither base nor panel is drawn."""

    panels: tuple[Panel, ...]
    openings: tuple[Opening, ...]
    loose: tuple[LoosePiece, ...]
    base: BaseGeometry
    base_drawn: bool
    base_objects: tuple[str, ...]
    foam: tuple[Sheet, ...]
    covers: tuple[Sheet, ...]
    diffusers: tuple[Sheet, ...]
    folds: tuple[Fold, ...]
    lights: tuple[Part, ...]
    cells: tuple[Part, ...]
    switches: tuple[Part, ...]
    resistors: tuple[Part, ...]
    pull_tabs: tuple[Part, ...]
    strips: tuple[Strip, ...]
    patches: tuple[Patch, ...]
    side: str = "front"
    #: object id -> rule codes that its maker accepts
    accepts: Mapping[str, frozenset[str]] = field(default_factory=dict)
    #: object id -> short mark of its geometry (to notice that an accepted object changed)
    marks: Mapping[str, str] = field(default_factory=dict)
    scores: tuple[Score, ...] = ()

    @property
    def parts(self) -> tuple[Part, ...]:
        return self.lights + self.cells + self.switches + self.resistors + self.pull_tabs

    @property
    def tape(self) -> list[BaseGeometry]:
        """Areas of all strips, then of the paper that lies over some."""
        return [strip.geometry for strip in self.strips] + [p.geometry for p in self.patches]


def ohms_of(part: Part) -> float | None:
    """Ohms of a resistor; None where it names none that can be used."""
    try:
        ohm = float(part.attributes.get("ohms", ""))
    except ValueError:
        return None
    return ohm if isfinite(ohm) and ohm > 0.0 else None
