"""A placed battery -> SVG: each thing on its layer, marked as made by the action."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from lxml import etree

from underlit.markup.primitives import Group
from underlit.model.card import Card
from underlit.workflows.placing_power import Drawn
from underlit.workflows.power_marks import aside

from .arranging import add_layers
from .layers import Ids, find_layers, mm_to_local, new_layer, tool_layer, usable_layers
from .laying import made_by
from .lengths import Unreadable
from .made import take_out
from .names import LABEL, SVG, UNDERLIT
from .parts_markup import append_made_shape, append_part
from .transforms import IDENTITY
from .write_drawing import append_sheet, number

ACTION = "place_power"

#: Paper that goes over tape has a layer of its own above the tape's, so that tape which is drawn
#: later still lies under it.
PAPER = "Rim paper"

#: A group whose map to the page's mm differs by less than this was not moved.
UNMOVED = 1e-3

#: Layers that the action puts something on.
ROLES = ("power", "foam", "tape", "folds", "marks")


def made_power(root: etree._Element) -> list[etree._Element]:
    """Everything that the action made earlier and may take away."""
    return [element for role in ROLES for element in made_by(root, role, ACTION)]


def made_battery(root: etree._Element) -> etree._Element | None:
    """The battery that the action placed earlier."""
    made = (el for el in made_power(root) if el.attrib.get(UNDERLIT + "part") == "cell")
    return next(made, None)


def is_pinned(root: etree._Element) -> bool:
    """Whether a battery that the action placed is pinned."""
    return any(
        element.attrib.get(UNDERLIT + "part") == "cell"
        and element.attrib.get(UNDERLIT + "pin") == "true"
        and element.attrib.get(UNDERLIT + "made", "").startswith(ACTION + ":")
        for layer in find_layers(root, "power")
        for element in layer.iter(SVG + "g")
    )


def remove_power(root: etree._Element) -> None:
    """Take away what the action made earlier; pinned things and copies stay."""
    take_out(made_power(root))
    take_out([layer for layer in _paper_layers(root) if not len(layer)])


def draw_power(
    root: etree._Element,
    drawn: Sequence[Drawn],
    marks: tuple[Group, ...],
    names: Mapping[str, str],
    paper_first: bool,
) -> None:
    """Draw a battery with all that belongs to it. `names` are free ids by key."""
    missing = {one.role for one in drawn if not usable_layers(root, one.role)}
    add_layers(root, missing)
    for one in drawn:
        layer = _layer(root, one, paper_first)
        if one.part.kind:
            append_part(
                root,
                layer,
                one.part,
                one.at,
                one.angle,
                name=names[one.key],
                action=ACTION,
                more=one.more,
            )
        else:
            _plain(root, layer, one, names[one.key])
    layers = usable_layers(root, "marks")
    layer = layers[0] if layers else tool_layer(root, "marks")
    append_sheet(root, layer, marks, ACTION, "underlit-power")


def move_words(root: etree._Element, card: Card) -> None:
    """Words that the action wrote beside a battery step aside where tape lies under them.

    Only words that stand as they were written: what the maker moved, turned or set anew stays.
    """
    for group in made_by(root, "marks", ACTION):
        lines = list(group.iterchildren(SVG + "text"))
        places = [place for place in map(_place, lines) if place is not None]
        if not lines or len(places) < len(lines) or not _is_unmoved(root, group):
            continue
        by = aside([line.text or "" for line in lines], places[0], card)
        if by == (0.0, 0.0):
            continue
        for line, (x, y) in zip(lines, places, strict=True):
            line.attrib["x"], line.attrib["y"] = number(x + by[0]), number(y + by[1])


def _place(line: etree._Element) -> tuple[float, float] | None:
    """Where a line of words begins; None if it is no longer as the tool writes lines."""
    if len(line) or "transform" in line.attrib:
        return None
    try:
        x, y = float(line.attrib["x"]), float(line.attrib["y"])
    except (KeyError, ValueError):
        return None
    return (x, y) if math.isfinite(x) and math.isfinite(y) else None


def _is_unmoved(root: etree._Element, group: etree._Element) -> bool:
    """Whether what is in a group is still written in mm of the page."""
    try:
        here = mm_to_local(root, group)
    except Unreadable:
        return False
    return all(abs(a - b) < UNMOVED for a, b in zip(here, IDENTITY, strict=True))


def _layer(root: etree._Element, one: Drawn, paper_first: bool) -> etree._Element:
    """The layer on which a thing is drawn; its role is there already."""
    if one.key != "collar":
        return usable_layers(root, one.role)[-1]
    if paper_first:
        return usable_layers(root, "tape")[0]
    papers = _paper_layers(root)
    return papers[-1] if papers else _new_paper_layer(root)


def _paper_layers(root: etree._Element) -> list[etree._Element]:
    return [la for la in usable_layers(root, "tape") if la.attrib.get(LABEL) == PAPER]


def _new_paper_layer(root: etree._Element) -> etree._Element:
    """A second layer of tape, right above the topmost one."""
    below = usable_layers(root, "tape")[-1]
    top = [below, *below.iterancestors()][-2]
    layer = new_layer(root, "tape", before=top.getnext())
    layer.attrib["id"] = Ids(root).free("underlit-rim-paper")
    layer.attrib[LABEL] = PAPER
    return layer


def _plain(root: etree._Element, layer: etree._Element, one: Drawn, name: str) -> None:
    """A shape of its own (ring, paper, fold) with all its points in page mm.

    Paper that tape comes over is drawn below everything on its layer.
    """
    element = append_made_shape(
        root,
        layer,
        one.part.shapes[0],
        name=name,
        title=one.part.title,
        action=ACTION,
        more=one.more,
    )
    if one.key == "collar":
        etree._Element.insert(layer, 0, element)
