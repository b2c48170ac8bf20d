"""HTML and SVG elements. The standard library escapes whatever text goes in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from xml.etree import ElementTree as ET

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..sheet.content import Area, Disc, Item, Line, Point, Words

Child = ET.Element | str

#: Elements that end a line, so that the file can be read.
BLOCKS = {
    *("html", "head", "meta", "title", "style", "script", "body", "header", "main", "section"),
    *("footer", "h1", "h2", "h3", "p", "div", "ul", "ol", "li", "table", "caption", "thead"),
    *("tbody", "tr", "svg", "g", "label"),
}


def element(tag: str, attributes: Mapping[str, str] | None = None, *children: Child) -> ET.Element:
    """An element with text and elements inside."""
    made = ET.Element(tag, dict(attributes or {}))
    if tag in BLOCKS:
        made.tail = "\n"
    for child in children:
        if isinstance(child, ET.Element):
            made.append(child)
        elif len(made):
            made[-1].tail = (made[-1].tail or "") + child
        else:
            made.text = (made.text or "") + child
    return made


def paragraph(text: str, kind: str = "") -> ET.Element:
    """A paragraph."""
    return element("p", {"class": kind} if kind else {}, text)


def listed(texts: Iterable[str], kind: str = "", *, numbered: bool = False) -> ET.Element:
    """A list of sentences."""
    rows = [element("li", {}, text) for text in texts]
    return element("ol" if numbered else "ul", {"class": kind} if kind else {}, *rows)


def number(value: float) -> str:
    """At most two decimals, none that say nothing."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def path_of(geometry: BaseGeometry, fine: float) -> str:
    """The rings of an area as path data, followed within `fine`."""
    lean = shapely.simplify(geometry, fine)
    found = []
    for part in shapely.get_parts(lean):
        if part.geom_type == "Polygon" and not part.is_empty:
            for ring in (part.exterior, *part.interiors):
                found.append(_way(shapely.get_coordinates(ring)[:-1], True))
    return "".join(found)


def _way(points: Iterable[Point] | np.ndarray, closed: bool) -> str:
    pairs = " ".join(f"{number(float(x))} {number(float(y))}" for x, y in points)
    return f"M{pairs}{'Z' if closed else ''}"


def drawn(items: Iterable[Item]) -> list[ET.Element]:
    """What the making sheet would paint, as elements of an SVG."""
    return [_element(item) for item in items]


def _element(item: Item) -> ET.Element:
    if isinstance(item, Words):
        x, y = item.at
        place = {"x": number(x), "y": number(y), "font-size": number(item.size)}
        weight = {"font-weight": "bold"} if item.bold else {}
        ink = {"text-anchor": item.anchor, "fill": item.colour}
        return element("text", {**place, **weight, **ink}, item.text)
    if isinstance(item, Line):
        attributes = {"d": _way(item.points, item.closed), "fill": "none", "stroke": item.colour,
                      "stroke-width": number(item.width)}  # fmt: skip
        if item.dash:
            attributes["stroke-dasharray"] = " ".join(map(number, item.dash))
        return element("path", attributes)
    if isinstance(item, Area):
        d = "".join(_way(ring, True) for ring in item.rings)
        thin = {"fill-opacity": number(item.opacity)} if item.opacity < 1.0 else {}
        return element("path", {"d": d, "fill-rule": "evenodd", **_inks(item), **thin})
    x, y = item.at
    return element(
        "circle", {"cx": number(x), "cy": number(y), "r": number(item.radius), **_inks(item)}
    )


def _inks(item: Area | Disc) -> dict[str, str]:
    inks = {"fill": item.fill or "none"}
    if item.stroke is not None:
        inks |= {"stroke": item.stroke, "stroke-width": number(item.width)}
    return inks
