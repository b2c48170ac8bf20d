"""A drawing after SVG has been forgotten: plain shapes in page millimetres.

`underlit_host.read_drawing` fills this; `underlit.interpretation` gives it meaning.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

import numpy as np
from shapely.geometry.base import BaseGeometry

from ..records import record

ROLES = (
    "die-cut",
    "base",
    "folds",
    "lights",
    "power",
    "tape",
    "foam",
    "cover",
    "diffuser",
    "openings",
    "marks",
    "findings",
    "glow",
)

#: Default layer label of each role.
LABELS = {
    "die-cut": "Die cut",
    "base": "Base",
    "folds": "Folds",
    "lights": "Lights",
    "power": "Power",
    "tape": "Tape",
    "foam": "Foam",
    "cover": "Cover",
    "diffuser": "Diffuser",
    "openings": "Openings",
    "marks": "Marks",
    "findings": "Findings",
    "glow": "Glow",
}

#: Layers whose content belongs to the tool and is never read as the maker's.
TOOL_ROLES = frozenset({"openings", "marks", "findings", "glow"})


@record
class Page:
    """The first page: size in mm, and mm per user unit of the document's root."""

    width: float
    height: float
    scale: float


@record
class Contour:
    """One subpath, flattened within `units.FLATNESS`, in page mm.

    `points` is (n, 2) float64 and never repeats the first point at the end. `turns` is
    (n,) float64: the absolute turning angle in degrees between the path's own segments at
    each of its nodes, 0 at points that only follow a curve and at the ends of an open path.
    `closed` says that the path itself closes (Z, or a shape that is closed by nature).
    """

    points: np.ndarray
    turns: np.ndarray
    closed: bool


@record
class Stroke:
    """How a contour is stroked.

    `width` is in the object's own units and `linear` (2, 2) carries those to page mm, so a
    stroke under an uneven transform is as wide as it is drawn. cap: butt | round | square;
    join: miter | round | bevel (others are read as miter).
    """

    width: float
    cap: str
    join: str
    miter_limit: float
    linear: np.ndarray


@record
class Shape:
    """One drawn object (or what a clone draws of one) with all its resolved properties.

    `id` is the id of what the maker can click: the object's own, or that of the outermost
    clone; without one, layer label and number ("Tape 3") with `has_id` false. Several
    shapes share an id where one clone draws several. `attributes` are the `underlit:*`
    attributes by local name, those of enclosing groups included (nearest wins; never
    `role` or `made` from outside). `part` is an index into `Drawing.parts`.
    `stroke` is None where nothing is stroked; `filled` is false where nothing is filled;
    a shape with neither is still listed on layers where geometry counts, not paint.
    `clip` is what clip paths leave visible, in page mm (None: everything).
    """

    id: str
    has_id: bool
    index: int
    role: str
    tag: str
    contours: tuple[Contour, ...]
    filled: bool
    fill_rule: str
    stroke: Stroke | None
    clip: BaseGeometry | None
    attributes: Mapping[str, str]
    part: int | None = None
    feature: str | None = None


@record
class PartInstance:
    """A group (or clone of one) that carries `underlit:part` of a part (not patch, not panel).

    `matrix` (2, 3) carries the part's own coordinates to page mm, `outer` (2, 3) those of the
    group or layer that it stands in: what differs is the part's own turning, moving, scaling.
    """

    id: str
    has_id: bool
    index: int
    role: str
    kind: str
    attributes: Mapping[str, str]
    matrix: np.ndarray
    outer: np.ndarray


@record
class Remark:
    """Something met while reading that is not a shape.

    kind: text | picture | hidden | unpainted | unreadable | flat (scale 0) |
    no-size (a click without a drag, a circle of radius 0) | masked |
    clone-cycle | clone-missing | duplicate-id. `role` is the layer's role; `in_part`
    is true inside a part and for a whole part; `part` is the index of the part inside which it
    was met (None: not inside one). `detail` is a short clause in plain words (may be empty).
    """

    kind: str
    id: str
    has_id: bool
    role: str
    at: tuple[float, float] | None
    in_part: bool
    detail: str
    part: int | None = None


@record
class Layer:
    """A layer as found: its role (None: not ours), its label and its id ("" without)."""

    role: str | None
    label: str
    id: str
    by_attribute: bool


@record
class Drawing:
    """Everything that later stages may know of a file."""

    name: str
    page: Page
    shapes: tuple[Shape, ...]
    parts: tuple[PartInstance, ...]
    remarks: tuple[Remark, ...]
    layers: tuple[Layer, ...]
    profile: str | None = None
    settings: Mapping[str, object] = field(default_factory=dict)
    side: str = "front"
    side_word: str = ""
    #: what earlier runs of the tool remember (Findings layer): object id -> geometry mark
    remembered: Mapping[str, str] = field(default_factory=dict)
