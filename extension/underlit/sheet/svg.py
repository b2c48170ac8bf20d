"""A book as one SVG: its pages one below the other, each also a page of the editor."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from xml.etree import ElementTree as ET

from ..language import say
from .content import Area, Book, Disc, Item, Line, Point, Words
from .fonts import BOLD, REGULAR, clean, font_bytes

SVG = "http://www.w3.org/2000/svg"
INKSCAPE = "http://www.inkscape.org/namespaces/inkscape"
SODIPODI = "http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"

#: Room between pages (mm).
BETWEEN = 10.0

#: DejaVu Sans has the same letters; it stands in where a program ignores embedded fonts.
FAMILY = f"{REGULAR}, 'Bitstream Vera Sans', 'DejaVu Sans', sans-serif"


def to_svg(book: Book) -> bytes:
    """The SVG file of a book; 1 user unit is 1 mm."""
    for prefix, name in (("", SVG), ("inkscape", INKSCAPE), ("sodipodi", SODIPODI)):
        ET.register_namespace(prefix, name)
    wide = max(page.width for page in book.pages)
    high = sum(page.height + BETWEEN for page in book.pages) - BETWEEN
    size = {"width": f"{_n(wide)}mm", "height": f"{_n(high)}mm"}
    root = ET.Element(_svg("svg"), {**size, "viewBox": f"0 0 {_n(wide)} {_n(high)}"})
    ET.SubElement(root, _svg("title")).text = clean(book.title)
    ET.SubElement(root, _svg("style")).text = _faces()
    view = ET.SubElement(root, f"{{{SODIPODI}}}namedview", {"pagecolor": "#ffffff"})
    view.set(f"{{{INKSCAPE}}}document-units", "mm")
    top = 0.0
    for number, page in enumerate(book.pages, 1):
        place = {"x": "0", "y": _n(top), "width": _n(page.width), "height": _n(page.height)}
        ET.SubElement(view, f"{{{INKSCAPE}}}page", {**place, "id": f"sheet-{number}"})
        group = ET.SubElement(
            root, _svg("g"), {"id": f"page-{number}", "transform": f"translate(0,{_n(top)})"}
        )
        label = say("Page {number}: {title}", number=number, title=clean(page.title))
        group.set(f"{{{INKSCAPE}}}groupmode", "layer")
        group.set(f"{{{INKSCAPE}}}label", label)
        ET.SubElement(
            group, _svg("rect"),
            {"width": _n(page.width), "height": _n(page.height), "fill": "#ffffff"},
        )  # fmt: skip
        for item in page.items:
            group.append(_element(item))
        top += page.height + BETWEEN
    data: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return data


def _svg(name: str) -> str:
    return f"{{{SVG}}}{name}"


def _n(value: float) -> str:
    """At most four decimals, none that say nothing."""
    return f"{value:.4f}".rstrip("0").rstrip(".") or "0"


def _faces() -> str:
    rules = []
    for name, weight in ((REGULAR, "normal"), (BOLD, "bold")):
        data = base64.b64encode(font_bytes(name)).decode("ascii")
        rules.append(
            f"@font-face{{font-family:{REGULAR};font-weight:{weight};"
            f"src:url(data:font/ttf;base64,{data})}}"
        )
    return "\n".join(rules)


def _element(item: Item) -> ET.Element:
    if isinstance(item, Words):
        x, y = item.at
        text = ET.Element(
            _svg("text"),
            {
                "x": _n(x),
                "y": _n(y),
                "font-family": FAMILY,
                "font-size": _n(item.size),
                "font-weight": "bold" if item.bold else "normal",
                "text-anchor": item.anchor,
                "fill": item.colour,
            },
        )
        text.text = clean(item.text)
        return text
    if isinstance(item, Line):
        attributes = {"d": _d((item.points,), item.closed), "fill": "none", "stroke": item.colour}
        attributes["stroke-width"] = _n(item.width)
        if item.dash:
            attributes["stroke-dasharray"] = " ".join(map(_n, item.dash))
        return ET.Element(_svg("path"), attributes)
    if isinstance(item, Area):
        attributes = {"d": _d(item.rings, True), "fill-rule": "evenodd", **_inks(item)}
        if item.opacity < 1.0:
            attributes["fill-opacity"] = _n(item.opacity)
        return ET.Element(_svg("path"), attributes)
    x, y = item.at
    place = {"cx": _n(x), "cy": _n(y), "r": _n(item.radius)}
    return ET.Element(_svg("circle"), {**place, **_inks(item)})


def _inks(item: Area | Disc) -> dict[str, str]:
    inks = {"fill": item.fill or "none"}
    if item.stroke is not None:
        inks |= {"stroke": item.stroke, "stroke-width": _n(item.width)}
    return inks


def _d(rings: Sequence[Sequence[Point]], closed: bool) -> str:
    parts = []
    for ring in rings:
        points = [f"{_n(x)} {_n(y)}" for x, y in ring]
        parts.append(f"M {' L '.join(points)}{' Z' if closed else ''}")
    return " ".join(parts)
