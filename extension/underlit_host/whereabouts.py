"""Where something lies that is not read, as well as can be told."""

from __future__ import annotations

import re
from collections.abc import Mapping

from lxml import etree

from .clones import Viewport, clone_matrix, open_viewport, own_matrix
from .contours import middle, place_on_page
from .lengths import NUMBER, Unreadable, read_length
from .names import CONTAINERS, SHAPES, SVG, local_name
from .references import References, href
from .shapes import read_outline
from .transforms import Matrix, carry

Place = tuple[float, float]

#: So many elements are looked at before the place counts as unknown.
MOST = 200


def whereabouts(
    element: etree._Element, matrix: Matrix, viewport: Viewport, references: References
) -> Place | None:
    """A place in page mm of the first thing that an element draws, None where none is known."""
    stack = [(element, matrix, viewport)]
    for _ in range(MOST):
        if not stack:
            break
        one, outer, view = stack.pop()
        name = local_name(one.tag)
        try:
            matrix = own_matrix(outer, one.attrib)
            if name == "use":
                target = references.find(href(one))
                place = carry(clone_matrix(matrix, one.attrib, view), 0.0, 0.0)
                if target is None:
                    placed = {"x", "y", "transform"} & set(one.attrib)
                    return place_on_page(*place) if placed else None
                stack.append((target, clone_matrix(matrix, one.attrib, view), view))
            elif name in CONTAINERS or name == "symbol":
                if name == "svg":
                    matrix, view = open_viewport(matrix, one.attrib, view, None)
                stack += [(child, matrix, view) for child in one.iterchildren(reversed=True)]
            elif name:
                found = _of_object(one, name, matrix, view)
                if found is not None:
                    return found
        except Unreadable:
            continue
    return None


def _of_object(
    element: etree._Element, name: str, matrix: Matrix, viewport: Viewport
) -> Place | None:
    attributes = element.attrib
    if name in SHAPES:
        try:
            found = middle(read_outline(name, attributes, viewport), matrix)
        except Unreadable:
            found = None
        return found or _first_point(name, attributes, matrix)
    if name in {"image", "foreignObject"}:
        x, y, width, height = (_number(attributes, key) for key in ("x", "y", "width", "height"))
        return place_on_page(*carry(matrix, x + width / 2.0, y + height / 2.0))
    if name in {"text", "flowRoot"}:
        for one in (element, *element.iter(SVG + "tspan")):
            if "x" in one.attrib and "y" in one.attrib:
                return place_on_page(
                    *carry(matrix, _number(one.attrib, "x"), _number(one.attrib, "y"))
                )
        return place_on_page(*carry(matrix, 0.0, 0.0))
    return None


def _number(attributes: Mapping[str, str], key: str) -> float:
    """The first number of an attribute in user units, 0 without one."""
    words = attributes.get(key, "0").replace(",", " ").split()
    return read_length(words[0], 0.0) if words else 0.0


def _first_point(name: str, attributes: Mapping[str, str], matrix: Matrix) -> Place | None:
    """The first two numbers of what cannot be read as a whole."""
    if name in {"path", "polyline", "polygon"}:
        begin = attributes.get("d", attributes.get("points", ""))[:200]
        pair = re.match(rf"[\s,Mm]*({NUMBER})[\s,]*({NUMBER})", begin)
        values = [pair[1], pair[2]] if pair else []
    else:
        keys = {"rect": ("x", "y"), "line": ("x1", "y1")}.get(name, ("cx", "cy"))
        values = [attributes.get(key, "0") for key in keys]
    try:
        x, y = (read_length(value, 0.0) for value in values)
    except (Unreadable, ValueError):
        return None
    return place_on_page(*carry(matrix, x, y))
