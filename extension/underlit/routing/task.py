"""What is to be routed: a board with its parts in plain millimetres, nothing of SVG.

A board lies in page mm (y down). Angles in degrees, clockwise on screen, 0 to the right. Pads of
lights are given in the light's own frame (origin at the lens, x axis to the right at angle 0);
everything else in page mm.
"""

from __future__ import annotations

from collections.abc import Callable

from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from ..records import record

#: How a light may turn.
TURNS = ("free", "45", "locked")


@record
class Light:
    """A light: pads and body in its own frame, lens at the origin. `gap` holds at its feet (mm)."""

    id: str
    at: tuple[float, float]
    positive: BaseGeometry
    negative: BaseGeometry
    body: BaseGeometry
    angle: float = 0.0
    turn: str = "free"
    gap: float = 1.0


@record
class Cell:
    """A cell: pads and body in page mm.

    `ring` is where bare minus tape would touch the rim (None: a holder, whose body keeps all
    tape out); `insulated` is where a patch covers that ring.
    """

    id: str
    positive: BaseGeometry
    negative: BaseGeometry
    body: BaseGeometry
    ring: BaseGeometry | None = None
    insulated: BaseGeometry | None = None


@record
class TwoPad:
    """A switch or resistor in line, in the plus side's way from the cell. Page mm."""

    id: str
    first: BaseGeometry
    second: BaseGeometry
    body: BaseGeometry


@record
class Obstacle:
    """Something that tape keeps `clearance` (mm) away from. `name` is said to the maker."""

    name: str
    area: BaseGeometry
    clearance: float
    #: only for one polarity (positive | negative), None: for both
    polarity: str | None = None


@record
class OwnOpening:
    """An opening over a light: tape may fill at most `share` of its area (bodies not counted)."""

    name: str
    area: BaseGeometry
    share: float


@record
class FoldLine:
    """A fold of the card; one that moves `often` is crossed square, without a joint near it."""

    name: str
    line: LineString
    often: bool = True


@record
class Pinned:
    """A strip that stays. `line` is its centre line where it is a stroked polyline.

    `paper` is what insulating patches cover of its upper side: other tape may cross there.
    """

    id: str
    area: BaseGeometry
    width: float
    line: LineString | None = None
    polarity: str | None = None
    paper: BaseGeometry | None = None

    @property
    def bare(self) -> BaseGeometry:
        """What of it other tape and feet can meet."""
        return self.area if self.paper is None else self.area.difference(self.paper)


@record
class Limits:
    """mm and shares, as `[limits]` of a profile; the first of each pair is what must be kept."""

    width: float = 5.0
    gap: float = 2.0
    aim_gap: float = 3.0
    edge: float = 3.0
    aim_edge: float = 5.0
    pad_cover: float = 0.5
    aim_pad: float = 1.0
    joint_cover: float = 0.4
    aim_joint: float = 1.0
    #: how far an insulating patch reaches beyond a crossing
    patch: float = 2.0
    #: widths of tape that could be had instead
    widths: tuple[float, ...] = ()


@record
class Choices:
    """What the maker may choose.

    `fewer_strips` 0 (shortest) .. 1 (fewest runs, pieces and joints). `style` free | rails.
    `effort` >= 1 fixes how much is tried, `seconds` (None: no end) only cuts off. `patches`:
    plus and minus may cross over an insulating patch where there is no other way.
    """

    fewer_strips: float = 0.5
    style: str = "free"
    corners: str = "fold"
    conducts: bool = True
    effort: int = 2
    seconds: float | None = None
    seed: int = 1
    patches: bool = False


@record
class Task:
    """A whole board to be routed."""

    base: BaseGeometry
    lights: tuple[Light, ...]
    cells: tuple[Cell, ...]
    obstacles: tuple[Obstacle, ...] = ()
    openings: tuple[OwnOpening, ...] = ()
    parts: tuple[TwoPad, ...] = ()
    folds: tuple[FoldLine, ...] = ()
    pinned: tuple[Pinned, ...] = ()
    sketches: tuple[LineString, ...] = ()
    limits: Limits = Limits()
    choices: Choices = Choices()


#: Seconds from any fixed moment; handed in from outside.
Clock = Callable[[], float]
