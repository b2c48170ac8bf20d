"""Names of elements and attributes with their namespaces, as lxml spells them."""

from __future__ import annotations

SVG = "{http://www.w3.org/2000/svg}"
XLINK_HREF = "{http://www.w3.org/1999/xlink}href"
INKSCAPE = "{http://www.inkscape.org/namespaces/inkscape}"
SODIPODI = "{http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd}"
UNDERLIT = "{urn:underlit:card:1}"

ROLE = UNDERLIT + "role"
GROUPMODE = INKSCAPE + "groupmode"
LABEL = INKSCAPE + "label"

#: Elements that only hold others (`symbol` draws through a clone alone).
CONTAINERS = frozenset({"g", "svg", "a", "switch"})

SHAPES = frozenset({"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"})

TEXTS = frozenset({"text", "flowRoot"})

PICTURES = frozenset({"image", "foreignObject"})


def local_name(tag: object) -> str:
    """Name of an SVG element without its namespace, empty for anything else."""
    if isinstance(tag, str) and tag.startswith(SVG):
        return tag[len(SVG) :]
    return ""


def is_numbered(name: str) -> bool:
    """Whether it may name an object without an id: the label of its layer and a number."""
    label, _, number = name.rpartition(" ")
    return bool(label.strip()) and number.isdecimal()
