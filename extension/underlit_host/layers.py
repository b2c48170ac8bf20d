"""Layers of the drawing that belong to the tool: found, made, emptied; coordinates in page mm.

A layer is found by its role or label wherever it stands. What the maker put into it stays; so
does what is pinned. Only objects that carry `underlit:made` with their own id are taken out.

Elements may be inkex's own classes, whose `get`, `set`, `append` and `remove` reformat numbers
and walk the whole drawing: attributes are written through `attrib`, the tree as plain lxml.
"""

from __future__ import annotations

from lxml import etree

from underlit.model.drawing import LABELS

from .lengths import Unreadable
from .made import GROUP, MADE, PIN, is_made, take_out
from .names import GROUPMODE, INKSCAPE, LABEL, ROLE, SODIPODI, SVG, UNDERLIT
from .page import read_page
from .roles import is_layer, role_by_attribute, role_by_label
from .transforms import IDENTITY, Matrix, compose, inverse, is_flat, read_transform

#: Prefixes that a new layer brings along where the drawing has none.
NSMAP = {"inkscape": INKSCAPE[1:-1], "sodipodi": SODIPODI[1:-1], "underlit": UNDERLIT[1:-1]}

_LOCK = SODIPODI + "insensitive"

#: Elements whose children are drawn in the same coordinates, transforms apart.
_THROUGH = frozenset({GROUP, SVG + "a", SVG + "switch"})

_UNDRAWN = frozenset(
    SVG + name for name in ("defs", "title", "desc", "metadata", "style", "script")
)

_LAYERS = etree.XPath(
    "//svg:g[@u:role or @i:groupmode]",
    namespaces={"svg": SVG[1:-1], "u": UNDERLIT[1:-1], "i": INKSCAPE[1:-1]},
)
_ALL_IDS = etree.XPath("//@id", smart_strings=False)


def own_role(element: etree._Element) -> str | None:
    """The role that a group has by itself, by attribute or by its layer label."""
    if element.tag != GROUP:
        return None
    own = role_by_attribute(element.attrib)
    if own is None and is_layer(element.attrib):
        return role_by_label(element.attrib)
    return own


def find_layers(root: etree._Element, role: str) -> list[etree._Element]:
    """All layers of a role in drawing order."""
    return [layer for layer in _LAYERS(root) if own_role(layer) == role and _drawn(root, layer)]


def usable_layers(root: etree._Element, role: str) -> list[etree._Element]:
    """All layers of a role on which something drawn can be seen, in drawing order."""
    return [layer for layer in find_layers(root, role) if is_usable(layer)]


def is_shown(root: etree._Element, role: str) -> bool:
    """Whether a layer of a role holds something and is not hidden."""
    return any(
        len(layer)
        and layer.get("display") != "none"
        and "display:none" not in "".join(layer.get("style", "").split())
        for layer in find_layers(root, role)
    )


def _drawn(root: etree._Element, layer: etree._Element) -> bool:
    """Whether it stands in the drawing itself, not in a symbol, say."""
    above = list(layer.iterancestors())
    return above[-1] is root and all(el.tag in _THROUGH for el in above[:-1])


def clickable_layer(root: etree._Element, role: str) -> etree._Element:
    """The visible, emptied layer of a role, where it stands; else a new one on top.

    The maker clicks what is on it, so it is not locked.
    """
    layers = find_layers(root, role)
    for layer in layers:
        remove_made(layer)
    layer = next(filter(is_usable, layers), None)
    if layer is None:
        layer = new_layer(root, role)
    _show(layer)
    layer.attrib.pop(_LOCK, None)
    return layer


def tool_layer(root: etree._Element, role: str) -> etree._Element:
    """The locked, visible, emptied layer of a role: the topmost there is, else a new one.

    A layer that stands directly in the drawing is brought to the top; a nested one stays.
    """
    layers = find_layers(root, role)
    for layer in layers:
        remove_made(layer)
    layer = next(filter(is_usable, reversed(layers)), None)
    if layer is None:
        layer = new_layer(root, role)
    if layer.getparent() is root and _covered(layer):
        etree._Element.append(root, layer)
    _show(layer)
    layer.attrib[_LOCK] = "true"
    return layer


def remove_made(layer: etree._Element) -> None:
    """Take out what the tool made, unless it is pinned or lies in a layer of another role."""
    for child in list(layer):
        if not isinstance(child.tag, str) or own_role(child) is not None:
            continue
        if is_made(child):
            if child.attrib.get(PIN) != "true":
                take_out([child])
        else:
            remove_made(child)


def mm_to_local(root: etree._Element, layer: etree._Element) -> Matrix:
    """The map from page mm to the coordinates inside a layer."""
    return inverse(compose(read_page(root)[1], matrix_of(layer)))


def matrix_of(element: etree._Element) -> Matrix:
    """The map from inside an element to the drawing's user units. Raises Unreadable."""
    matrix = IDENTITY
    for node in [element, *element.iterancestors()][:-1]:
        matrix = compose(read_transform(node.attrib.get("transform", "")), matrix)
    return matrix


class Ids:
    """Ids for new objects, none of which is taken in the drawing."""

    def __init__(self, root: etree._Element) -> None:
        self._taken = set(_ALL_IDS(root))

    def free(self, wanted: str) -> str:
        """The wanted id, or with -2, -3, ... at its end."""
        name, n = wanted, 1
        while name in self._taken:
            n += 1
            name = f"{wanted}-{n}"
        self._taken.add(name)
        return name


def add_made(
    parent: etree._Element, tag: str, action: str, wanted: str, ids: Ids
) -> etree._Element:
    """A new SVG element at the end of `parent`, marked as made by an action."""
    name = ids.free(wanted)
    made = {"id": name, MADE: f"{action}:{name}"}
    return etree.SubElement(parent, SVG + tag, made)


def new_layer(
    root: etree._Element, role: str, before: etree._Element | None = None
) -> etree._Element:
    """A new layer of a role, right before a child of the drawing's root (None: on top of all)."""
    attributes = {
        "id": Ids(root).free(f"underlit-{role}"),
        GROUPMODE: "layer",
        LABEL: LABELS[role],
        ROLE: role,
    }
    layer = etree.SubElement(root, GROUP, attributes, NSMAP)
    layer.tail = "\n"
    if before is not None:
        etree._Element.insert(root, root.index(before), layer)
    return layer


def is_usable(layer: etree._Element) -> bool:
    """Whether something drawn on it can be seen (its scale is not 0, say)."""
    try:
        return not is_flat(matrix_of(layer))
    except Unreadable:
        return False


def draws(element: etree._Element) -> bool:
    """Whether an element of the drawing's top may show something."""
    tag = element.tag
    return isinstance(tag, str) and tag.startswith(SVG) and tag not in _UNDRAWN


def _covered(layer: etree._Element) -> bool:
    """Whether anything that draws stands above it."""
    return any(draws(element) for element in layer.itersiblings())


def _show(layer: etree._Element) -> None:
    """A hidden layer is shown again: what it has to say is new."""
    if layer.attrib.get("display") == "none":
        del layer.attrib["display"]
    style = layer.attrib.get("style")
    if style is None:
        return
    kept = [part for part in style.split(";") if "".join(part.split()) != "display:none"]
    text = ";".join(kept)
    if text != style:
        layer.attrib["style"] = text
    if not text.strip():
        del layer.attrib["style"]
