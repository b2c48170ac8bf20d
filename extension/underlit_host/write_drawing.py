"""Marks of the tool -> SVG. Page millimetres become user units here, once, and nowhere else.

Everything of a sheet stands in one group whose transform carries mm to the layer's coordinates,
so that all numbers inside are page mm.
"""

from __future__ import annotations

import json
from collections.abc import Mapping

from lxml import etree

from underlit.markup.primitives import Circle, Group, Item, Path, Region, Sheet, Text
from underlit.markup.text import clean
from underlit.model.drawing import Drawing

from .layers import Ids, add_made, find_layers, mm_to_local, tool_layer
from .names import SVG, UNDERLIT
from .transforms import Matrix

REMEMBERED = UNDERLIT + "remembered"

#: How thick the rim round letters is, as a share of the size of the type.
RIM = 0.14

_BREAK = "\n    "

#: Numbers of a map below this are rounding.
TINY = 1e-12


def draw_findings(
    root: etree._Element, drawing: Drawing, sheet: Sheet, remember: Mapping[str, str]
) -> None:
    """Replace what is on the Findings layer by `sheet`; keep `remember` on the layer.

    `drawing` is what was read from `root` (the sheet is in its page mm). Objects on other layers,
    and the maker's own on this one, stay as they are.
    """
    for layer in find_layers(root, "findings"):
        layer.attrib.pop(REMEMBERED, None)
    layer = tool_layer(root, "findings")
    if remember:
        layer.attrib[REMEMBERED] = json.dumps(dict(remember), sort_keys=True)
    append_sheet(root, layer, sheet.groups, "validate", "underlit-finding")


def append_sheet(
    root: etree._Element,
    layer: etree._Element,
    groups: tuple[Group, ...],
    action: str,
    stem: str,
) -> etree._Element:
    """Put groups (page mm) at the end of a layer, in one group that carries mm to its units."""
    ids = Ids(root)
    outer = add_made(layer, "g", action, f"{stem}s-drawn", ids)
    outer.attrib["transform"] = matrix_text(mm_to_local(root, layer))
    if not layer.text:
        layer.text = _BREAK
    outer.tail = "\n  "
    outer.text = _BREAK if groups else None
    for group in groups:
        append_group(outer, group, action, stem, ids)
    return outer


def append_group(
    parent: etree._Element, group: Group, action: str, stem: str, ids: Ids
) -> etree._Element:
    """Put one group (in the units of `parent`) at the end of `parent`."""
    element = add_made(parent, "g", action, f"{stem}-{group.name}", ids)
    element.tail = _BREAK
    for key, value in group.attributes:
        element.attrib[UNDERLIT + key] = clean(value)
    title = etree.SubElement(element, SVG + "title")
    title.text = clean(group.title)
    for item in group.items:
        append_item(element, item)
    return element


def append_item(parent: etree._Element, item: Item) -> etree._Element:
    """Put one shape or line of text at the end of `parent`, in the units of `parent`."""
    if isinstance(item, Text):
        return _append_text(parent, item)
    if isinstance(item, Circle):
        shape = {
            "cx": number(item.at[0]),
            "cy": number(item.at[1]),
            "r": number(item.radius),
            "style": _paint(item),
        }
        return etree.SubElement(parent, SVG + "circle", shape)
    if isinstance(item, Region):
        shape = {"d": region_data(item), "style": region_paint(item)}
        return etree.SubElement(parent, SVG + "path", shape)
    shape = {"d": path_data(item), "style": _paint(item)}
    return etree.SubElement(parent, SVG + "path", shape)


def number(value: float) -> str:
    """At most four decimals, no trailing zeros, no minus zero."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_data(path: Path) -> str:
    """`M x,y L x,y ... Z` of a polyline or polygon."""
    points = [f"{number(x)},{number(y)}" for x, y in path.points]
    return "M " + " L ".join(points) + (" Z" if path.closed else "")


def region_data(region: Region) -> str:
    """All rings of an area as closed subpaths."""
    rings = (Path(ring, True, None, None, 0.0) for ring in region.rings)
    return " ".join(path_data(ring) for ring in rings)


def region_paint(item: Region) -> str:
    """The style of an area."""
    paint = f"fill:{item.fill};fill-opacity:{number(item.opacity)};fill-rule:evenodd;"
    if item.stroke is None:
        return paint + "stroke:none"
    return paint + f"stroke:{item.stroke};stroke-width:{number(item.width)};stroke-linejoin:round"


def _append_text(parent: etree._Element, line: Text) -> etree._Element:
    weight = "bold" if line.bold else "normal"
    attributes = {
        "x": number(line.at[0]),
        "y": number(line.at[1]),
        "style": f"font-family:sans-serif;font-weight:{weight};font-style:normal;"
        f"font-size:{number(line.size)}px;line-height:1;text-anchor:{line.anchor};"
        f"fill:{line.fill};{_rim(line)}",
    }
    element = etree.SubElement(parent, SVG + "text", attributes)
    element.text = clean(line.text)
    return element


def _rim(line: Text) -> str:
    """The stroke of a line of text: none, or its halo, which lies under the letters."""
    if line.halo is None:
        return "stroke:none"
    return (
        f"stroke:{line.halo};stroke-width:{number(2.0 * RIM * line.size)};stroke-linejoin:round;"
        "paint-order:stroke"
    )


def _paint(item: Path | Circle) -> str:
    fill = item.fill or "none"
    if item.stroke is None:
        return f"fill:{fill};stroke:none"
    return (
        f"fill:{fill};stroke:{item.stroke};stroke-width:{number(item.width)};"
        "stroke-linejoin:round;stroke-linecap:round"
    )


def matrix_text(matrix: Matrix) -> str:
    """matrix(...) with as many digits as the largest sheet needs (0.0001 mm over 10 m)."""
    return "matrix(" + ",".join(f"{0.0 if abs(v) < TINY else v:.9g}" for v in matrix) + ")"
