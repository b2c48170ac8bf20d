"""What pages are made of: plain frozen data in mm, origin at the top left of the page, y down.

Colours are "#rrggbb", None paints nothing. Items are painted in their order.
"""

from __future__ import annotations

from ..records import record

Point = tuple[float, float]
Box = tuple[float, float, float, float]


@record
class Line:
    """A polyline with butt ends; `dash` is its lengths of ink and gap, empty when solid."""

    points: tuple[Point, ...]
    width: float
    colour: str = "#000000"
    closed: bool = False
    dash: tuple[float, ...] = ()


@record
class Area:
    """An area with holes (even-odd rings); its fill covers what is under it by its `opacity`."""

    rings: tuple[tuple[Point, ...], ...]
    fill: str | None
    stroke: str | None = None
    width: float = 0.0
    opacity: float = 1.0


@record
class Disc:
    """A disc or ring."""

    at: Point
    radius: float
    fill: str | None
    stroke: str | None = None
    width: float = 0.0


@record
class Words:
    """One line of text: `at` on its baseline, at its start | middle | end (`anchor`)."""

    at: Point
    text: str
    size: float
    bold: bool = False
    anchor: str = "start"
    colour: str = "#000000"


Item = Line | Area | Disc | Words


@record
class Page:
    """One page: size in mm, a title for the list of pages, and what is painted."""

    width: float
    height: float
    title: str
    items: tuple[Item, ...]


@record
class Book:
    """All pages of one making sheet."""

    title: str
    pages: tuple[Page, ...]
