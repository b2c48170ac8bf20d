"""Roles for a maker's objects: set where they stand, re-layered only where that cannot be.

A group takes a role by attribute, so nothing moves. A single object inside a layer of another
role goes to a layer of its own role, with shallow copies of the groups that it stood in, so that
it stays where it is on the page and looks as before.
"""

from __future__ import annotations

import difflib
import itertools
from collections.abc import Iterable, Sequence

from lxml import etree

from underlit.errors import UnknownChoice
from underlit.language import say
from underlit.model.drawing import LABELS, TOOL_ROLES

from .layers import (
    clickable_layer,
    draws,
    find_layers,
    matrix_of,
    new_layer,
    own_role,
    usable_layers,
)
from .made import GROUP, is_look
from .names import LABEL, ROLE, SHAPES, SVG, UNDERLIT, local_name
from .references import href
from .roles import is_layer
from .transforms import IDENTITY, inverse

PART = UNDERLIT + "part"
PANEL = "panel"

#: New layers from the table upwards; the Openings layer lies between sheets and tape.
_SHEETS = ("die-cut", "base", "folds", "foam", "diffuser", "cover")
STACK = (*_SHEETS, "tape", "lights", "power")

#: Elements at the drawing's top that may hold a maker's outlines.
_HOLDERS = frozenset({"g", "a", "switch"})
_DRAWN = SHAPES | {"use"}

#: A label this like another role's is meant as that role (the editor's own spelling check).
_ALIKE = 0.8


def role_of(element: etree._Element) -> str | None:
    """The role in which an element stands: its own as a group, else the nearest one around it."""
    for node in (element, *element.iterancestors()):
        role = own_role(node)
        if role is not None:
            return role
    return None


def adopt(root: etree._Element) -> bool:
    """Make everything that has no role die-cut; says whether there was anything.

    Layers without any outline, hidden ones, parts, and layers whose label is nearly that of
    another role are left alone. Single objects at the top go into a new layer, with the groups
    that stand between them.
    """
    taken = [child for child in root if _to_adopt(child)]
    for run in _runs(taken):
        single = [i for i, element in enumerate(run) if local_name(element.tag) in _DRAWN]
        between = run[single[0] : single[-1] + 1] if single else []
        if between:
            gather(root, between)
        for element in run:
            if element not in between:
                _give_role(element, "die-cut")
    return bool(taken)


def _to_adopt(child: etree._Element) -> bool:
    name = local_name(child.tag)
    if own_role(child) is not None or is_hidden(child) or PART in child.attrib:
        return False
    if name in _HOLDERS:
        return _has_outlines(child) and not _means_another(child)
    return name in _DRAWN


def gather(root: etree._Element, objects: Sequence[etree._Element]) -> None:
    """Put objects of the drawing's top into new die-cut layers, in their order.

    One layer, or one more wherever something between them is left where it is: what covers what
    stays so.
    """
    for run in _runs(objects):
        layer = new_layer(root, "die-cut", before=run[0])
        for element in run:
            tail = element.tail
            etree._Element.append(layer, element)
            element.tail = tail


def _runs(objects: Sequence[etree._Element]) -> list[list[etree._Element]]:
    """Objects of the drawing's top, parted where something else is seen between them.

    A layer stands by itself.
    """
    runs: list[list[etree._Element]] = []
    for element in objects:
        if runs and _follows(element, runs[-1][-1]):
            runs[-1].append(element)
        else:
            runs.append([element])
    return runs


def _follows(element: etree._Element, last: etree._Element) -> bool:
    if is_layer(element.attrib) or is_layer(last.attrib):
        return False
    between = itertools.takewhile(lambda sibling: sibling is not element, last.itersiblings())
    return not any(draws(sibling) and not is_hidden(sibling) for sibling in between)


def mark_panels(root: etree._Element, elements: Sequence[etree._Element]) -> None:
    """Mark these as panels and no others."""
    for element in root.iter(SVG + "*"):
        if element.attrib.get(PART) == PANEL and element not in elements:
            del element.attrib[PART]
    for element in elements:
        element.attrib[PART] = PANEL


def bring(root: etree._Element, element: etree._Element) -> None:
    """Bring an object and what stands around it on Die cut.

    The role goes on the outermost group without one; where all have one the object is moved.
    """
    role = role_of(element)
    if role == "die-cut":
        return
    if role is not None:
        give_or_move(root, element, "die-cut")
        return
    top = [element, *element.iterancestors()][-2]
    if top is not element or local_name(top.tag) in _HOLDERS:
        _give_role(top, "die-cut")
        return
    bare = [c for c in root if local_name(c.tag) in _DRAWN and not is_hidden(c)]
    gather(root, bare if element in bare else [element])


def give_or_move(root: etree._Element, element: etree._Element, role: str) -> None:
    """Give a group the role; move anything else to a layer of that role.

    What a clone draws too, or what stands in a drawing inside the drawing, gets a group of its
    own round it instead: moved, it would vanish from the clone or change its size.
    """
    if role_of(element) == role:
        return
    if local_name(element.tag) == "g":
        _give_role(element, role)
        return
    if _is_tied(root, element):
        _wrap(element, role)
        return
    top = [element, *element.iterancestors()][-2]
    layer = next(iter(usable_layers(root, role)), None)
    _move(element, new_layer(root, role, before=top) if layer is None else layer)


def _move(element: etree._Element, layer: etree._Element) -> None:
    """Put an object at the end of a layer, where it stays as it is on the page."""
    around = list(element.iterancestors())[:-1]
    place = layer
    back = inverse(matrix_of(layer))
    if max(abs(a - b) for a, b in zip(back, IDENTITY, strict=True)) > 1e-12:
        numbers = ",".join(f"{v:.12g}" for v in back)
        place = etree.SubElement(place, GROUP, {"transform": f"matrix({numbers})"})
    for group in reversed(around):
        kept = {k: v for k, v in group.attrib.items() if is_look(k)}
        if kept and local_name(group.tag) in _HOLDERS:
            place = etree.SubElement(place, GROUP, kept)
    element.tail = None
    etree._Element.append(place, element)


def _is_tied(root: etree._Element, element: etree._Element) -> bool:
    """Whether an object cannot leave the groups in which it stands."""
    around = list(element.iterancestors())[:-1]
    if any(local_name(group.tag) not in _HOLDERS for group in around):
        return True
    ids = {group.attrib.get("id") for group in around}
    return any(href(clone).removeprefix("#") in ids for clone in root.iter(SVG + "use"))


def _wrap(element: etree._Element, role: str) -> None:
    """Put a group with a role round an object, where it stands."""
    group = etree.Element(GROUP, {ROLE: role})
    group.tail, element.tail = element.tail, None
    etree._Element.replace(element.getparent(), element, group)
    etree._Element.append(group, element)


def _give_role(group: etree._Element, role: str) -> None:
    group.attrib[ROLE] = role


def _has_outlines(group: etree._Element) -> bool:
    return any(local_name(child.tag) in _DRAWN for child in group.iter(SVG + "*"))


def is_hidden(element: etree._Element) -> bool:
    """Whether an element itself is hidden."""
    style = "".join(element.attrib.get("style", "").split())
    return element.attrib.get("display") == "none" or "display:none" in style


def _means_another(group: etree._Element) -> bool:
    """Whether a layer's label is nearly that of a role other than Die cut."""
    if not is_layer(group.attrib):
        return False
    label = group.attrib.get(LABEL, "").strip().lower()
    words = [LABELS[role].lower() for role in LABELS if role != "die-cut"]
    return bool(difflib.get_close_matches(label, words, n=1, cutoff=_ALIKE))


def add_layers(root: etree._Element, roles: Iterable[str]) -> None:
    """Missing layers with role and label, each above what is there and below the tool's own."""
    for role in sorted(roles, key=STACK.index):
        new_layer(root, role, before=_first_of_tool(root))


def openings_layer(root: etree._Element) -> etree._Element:
    """The emptied Openings layer; a new one lies above the sheets and below tape and parts."""
    if not find_layers(root, "openings"):
        sheets = [child for child in root if own_role(child) in _SHEETS]
        above = sheets[-1].getnext() if sheets else None
        new_layer(root, "openings", before=above)
    return clickable_layer(root, "openings")


def _first_of_tool(root: etree._Element) -> etree._Element | None:
    """The lowest of the tool's layers that lie on top of all else, None without any."""
    found = None
    for child in reversed(root):
        if own_role(child) in TOOL_ROLES:
            found = child
        elif local_name(child.tag):
            break
    return found


def find_object(root: etree._Element, name: str, role: str = "") -> etree._Element:
    """The element of an id; of several one that is no part of the circuit, then one that has a
    role already, then the panel, then the first.

    Raises UnknownChoice.
    """
    alike = [el for el in root.iter(SVG + "*") if el.attrib.get("id") == name]
    if not alike:
        raise UnknownChoice(say("Nothing in this drawing has the id {name}.", name=name))

    def liking(element: etree._Element) -> tuple[bool, bool, bool]:
        around = (element, *element.iterancestors())
        return (
            any(node.attrib.get(PART, PANEL) != PANEL for node in around),
            bool(role) and role_of(element) != role,
            element.attrib.get(PART) != PANEL,
        )

    return min(alike, key=liking)
