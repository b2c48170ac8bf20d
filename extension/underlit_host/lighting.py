"""Windows that the maker clicked, and lights that the tool puts on the Lights layer."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from lxml import etree

from underlit.markup.part_shapes import light
from underlit.model.drawing import Drawing
from underlit.workflows.place_lights import Lighting, NewLight

from .arranging import add_layers
from .layers import Ids, find_layers, remove_made, usable_layers
from .laying import made_by
from .made import take_out
from .names import SVG, UNDERLIT, XLINK_HREF
from .numbering import OPENING
from .parts_markup import append_part
from .write_drawing import draw_findings

ACTION = "place_lights"

_TURN = UNDERLIT + "turn"


def windows_of(root: etree._Element, ids: Sequence[str]) -> tuple[str, ...]:
    """Names of the windows that ids stand for.

    A tinted shape of the Openings layer (or anything in it) stands for its window, a group of
    them for all in it; any other id is taken as the name of a window or of its outline.
    """
    if not ids:
        return ()
    wanted = set(ids)
    elements = {el.attrib["id"]: el for el in root.iter(SVG + "*") if el.attrib.get("id") in wanted}
    found: list[str] = []
    for name in ids:
        found += _windows(elements[name]) if name in elements else []
        found += [name] if name not in elements or not _windows(elements[name]) else []
    return tuple(dict.fromkeys(found))


def _windows(element: etree._Element) -> list[str]:
    for node in (element, *element.iterancestors()):
        if OPENING in node.attrib:
            return [node.attrib[OPENING]]
    return [el.attrib[OPENING] for el in element.iter(SVG + "*") if OPENING in el.attrib]


def replaceable(root: etree._Element) -> frozenset[str]:
    """Ids of lights that the action made and may take away.

    Not those that are pinned, nor those of which the maker has clones: they would vanish or move
    with it.
    """
    cloned = referred(root)
    return frozenset(
        element.attrib["id"]
        for element in made_by(root, "lights", ACTION)
        if element.attrib["id"] not in cloned
    )


def turn_locked(root: etree._Element) -> frozenset[str]:
    """Ids of lights that the action made and whose angle stays."""
    return frozenset(
        element.attrib["id"]
        for element in made_by(root, "lights", ACTION)
        if element.attrib.get(_TURN) == "locked"
    )


def referred(root: etree._Element) -> frozenset[str]:
    """Ids that clones refer to, whether there is such an object or not."""
    names = set()
    for use in root.iter(SVG + "use"):
        for key in (XLINK_HREF, "href"):
            names.add(use.attrib.get(key, "").strip().removeprefix("#"))
    return frozenset(names)


def draw_dark(root: etree._Element, drawing: Drawing, outcome: Lighting) -> None:
    """Say on the Findings layer which windows stay dark; marks of an earlier run go.

    What the maker accepted stays remembered there.
    """
    if outcome.sheet is not None:
        draw_findings(root, drawing, outcome.sheet, drawing.remembered)
    elif outcome.drawn or outcome.removed:
        for layer in find_layers(root, "findings"):
            remove_made(layer)


def draw_lights(root: etree._Element, lights: Sequence[NewLight], removed: Collection[str]) -> None:
    """Take lights away and put new ones on the Lights layer."""
    gone = set(removed)
    take_out([el for el in made_by(root, "lights", ACTION) if el.attrib["id"] in gone])
    if not lights:
        return
    if not usable_layers(root, "lights"):
        add_layers(root, ["lights"])
    layer = usable_layers(root, "lights")[-1]
    ids = Ids(root)
    for one in lights:
        part = light(one.type, one.figure)
        append_part(
            root,
            layer,
            part,
            one.at,
            one.angle,
            name=one.name,
            action=ACTION,
            ids=ids,
            more={"turn": "locked"} if one.locked else None,
        )
