"""What the maker chose as the spot to press: any object of the drawing, in page millimetres."""

from __future__ import annotations

import copy
import math
from collections.abc import Sequence

from lxml import etree

from underlit.errors import UnknownChoice
from underlit.language import say
from underlit.model.drawing import Shape
from underlit.workflows.placing_power import OLD, Chosen

from .arranging import find_object
from .names import LABEL, ROLE, SVG, UNDERLIT, is_numbered
from .read_drawing import read_drawing

OPENING = UNDERLIT + "opening"
_PIECE = UNDERLIT + "spot"
_FEATURE = UNDERLIT + "feature"
_PART = UNDERLIT + "part"

#: Largest coordinate of a place (mm): beyond any page.
FAR = 100_000.0

#: What a pruned copy keeps besides the way to the chosen object.
_KEPT = frozenset(SVG + name for name in ("defs", "style", "symbol"))


def choose(root: etree._Element, ids: Sequence[str], at: str, old: etree._Element | None) -> Chosen:
    """The spot of the options: a place, or one id, or where the battery lies that is replaced.

    A place goes before what is selected. Lights that are selected are no choice: placing them has
    left them so. Raises UnknownChoice.
    """
    if at.strip():
        return read_place(at)
    names = [name for name in ids if not _is_light(root, name)]
    if len(names) > 1:
        raise UnknownChoice(
            say("Choose one shape for the battery; {number} are selected.", number=len(names))
        )
    if names:
        return chosen_spot(root, names[0])
    if old is not None:
        return battery_spot(old)
    raise UnknownChoice(
        say("Select the shape under which the battery goes, or give a place: X,Y in mm.")
    )


def _is_light(root: etree._Element, name: str) -> bool:
    element = next((el for el in root.iter(SVG + "*") if el.attrib.get("id") == name), None)
    return element is not None and element.attrib.get(_PART) == "light"


def chosen_spot(root: etree._Element, name: str) -> Chosen:
    """The object of an id (or `id#n` or `label n`, the name of a window). Raises UnknownChoice."""
    if ("#" in name or is_numbered(name)) and not _known(root, name):
        return Chosen(opening=name, name=name)
    element = find_object(root, name)
    if element.attrib.get(_PART) == "cell":
        return battery_spot(element)
    openings = _openings(element)
    if len(openings) > 1:
        raise UnknownChoice(
            say(
                "{name} holds {number} windows; choose one of them (double-click into the group, "
                "then click it).",
                name=name,
                number=len(openings),
            )
        )
    if openings:
        return Chosen(opening=openings[0], name=name)
    return Chosen(shapes=shapes_of(element), name=name, label=element.attrib.get(LABEL, ""))


def read_place(text: str) -> Chosen:
    """A place given as X,Y in mm, or as X;Y with decimal commas. Raises UnknownChoice."""
    words = text.replace(",", ".").split(";") if ";" in text else text.split(",")
    try:
        x, y = (float(word) for word in words)
    except ValueError:
        x = y = math.nan
    if not (abs(x) <= FAR and abs(y) <= FAR):
        raise UnknownChoice(
            say("A place is X,Y on the page in mm, such as 52.5,118, not {text}.", text=text)
        )
    return Chosen(at=(x, y))


def battery_spot(battery: etree._Element) -> Chosen:
    """Where a battery lies that is to be placed anew: its body, never a flap's far contact."""
    body = next(
        (el for el in battery.iter(SVG + "*") if el.attrib.get(_FEATURE) == "body"), battery
    )
    return Chosen(shapes=shapes_of(body), name=battery.attrib.get("id", ""), label=OLD)


def shapes_of(element: etree._Element) -> tuple[Shape, ...]:
    """What one object draws, whatever layer it is on; text and pictures draw nothing."""
    root, target = _copied(element)
    for node in target.iter(SVG + "*"):
        node.attrib.pop(ROLE, None)
    for node in target.iterancestors():
        node.attrib.pop(ROLE, None)
    target.attrib[ROLE] = "die-cut"
    target.attrib[_PIECE] = "true"
    drawing = read_drawing(root, "")
    return tuple(s for s in drawing.shapes if s.attributes.get("spot") == "true")


def _copied(element: etree._Element) -> tuple[etree._Element, etree._Element]:
    """A copy of the drawing and the element in it; what cannot matter to it is left out."""
    way = []
    node = element
    while (parent := node.getparent()) is not None:
        way.append(parent.index(node))
        node = parent
    root = copy.deepcopy(node)
    target = root
    for step in reversed(way):
        target = target[step]
    if next(target.iter(SVG + "use"), None) is None:
        chain = {target, *target.iterancestors()}
        for around in target.iterancestors():
            for child in list(around):
                if child not in chain and child.tag not in _KEPT:
                    etree._Element.remove(around, child)
    return root, target


def _known(root: etree._Element, name: str) -> bool:
    return any(el.attrib.get("id") == name for el in root.iter(SVG + "*"))


def _openings(element: etree._Element) -> list[str]:
    """Names of the windows that a shape of the Openings layer stands for."""
    for node in (element, *element.iterancestors()):
        if OPENING in node.attrib:
            return [node.attrib[OPENING]]
    return [el.attrib[OPENING] for el in element.iter(SVG + "*") if OPENING in el.attrib]
