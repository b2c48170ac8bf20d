"""What tool-owned layers are made of: plain shapes and lines of text, in page mm.

A `Group` is one object to click; its items are painted in their order. Colours are "#rrggbb",
None paints nothing.
"""

from __future__ import annotations

from ..records import record

Point = tuple[float, float]
Box = tuple[float, float, float, float]


@record
class Path:
    """A polyline or polygon with round joins and caps; `width` is that of its stroke (mm)."""

    points: tuple[Point, ...]
    closed: bool
    fill: str | None
    stroke: str | None
    width: float


@record
class Circle:
    """A disc or ring; `width` is that of its stroke (mm)."""

    at: Point
    radius: float
    fill: str | None
    stroke: str | None
    width: float


@record
class Region:
    """An area with holes (even-odd rings); `opacity` is that of its fill."""

    rings: tuple[tuple[Point, ...], ...]
    fill: str
    opacity: float
    stroke: str | None
    width: float


@record
class Text:
    """One line of text. `at` is on its baseline: its start, or its middle (`anchor`).

    `halo` is a rim of that colour round the letters, None for none.
    """

    at: Point
    text: str
    size: float
    bold: bool
    anchor: str
    fill: str
    halo: str | None = None


Item = Path | Circle | Region | Text


@record
class Group:
    """Items that belong together: `name` is unique in its sheet, `title` says what it is.

    `attributes` are the tool's own (name, value), for actions that follow.
    """

    name: str
    title: str
    items: tuple[Item, ...]
    attributes: tuple[tuple[str, str], ...] = ()


@record
class Mark:
    """Where a numbered mark stands: its finding's place, its centre, how far it reaches (mm)."""

    number: int
    severity: str
    place: Point
    centre: Point
    reach: float


@record
class Sheet:
    """All that goes on one tool-owned layer; `panel` is the legend's box (x0, y0, x1, y1)."""

    groups: tuple[Group, ...]
    marks: tuple[Mark, ...]
    panel: Box
