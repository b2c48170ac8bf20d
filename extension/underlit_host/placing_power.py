"""A placed battery -> SVG: each thing on its layer, marked as made by the action."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from lxml import etree

from underlit.markup.primitives import Group
from underlit.workflows.placing_power import Drawn

from .arranging import add_layers
from .layers import MADE, find_layers, mm_to_local, tool_layer
from .laying import made_by, remove_all
from .names import LABEL, UNDERLIT
from .parts_markup import append_part, append_shape
from .write_drawing import append_sheet, matrix_text

ACTION = "place_power"

#: Layers that the action puts something on.
ROLES = ("power", "foam", "tape", "folds", "marks")


def made_power(root: etree._Element) -> list[etree._Element]:
    """Everything that the action made earlier and may take away."""
    return [element for role in ROLES for element in made_by(root, role, ACTION)]


def made_battery(root: etree._Element) -> etree._Element | None:
    """The battery that the action placed earlier."""
    made = (el for el in made_power(root) if el.attrib.get(UNDERLIT + "part") == "cell")
    return next(made, None)


def remove_power(root: etree._Element) -> None:
    """Take away what the action made earlier; pinned things and copies stay."""
    remove_all(made_power(root))


def draw_power(
    root: etree._Element,
    drawn: Sequence[Drawn],
    marks: tuple[Group, ...],
    names: Mapping[str, str],
    paper_first: bool,
) -> None:
    """Draw a battery with all that belongs to it. `names` are free ids by key."""
    missing = {one.role for one in drawn if not find_layers(root, one.role)}
    add_layers(root, missing)
    for one in drawn:
        layer = find_layers(root, one.role)[-1]
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
            _plain(root, layer, one, names[one.key], paper_first)
    layers = find_layers(root, "marks")
    layer = layers[0] if layers else tool_layer(root, "marks")
    append_sheet(root, layer, marks, ACTION, "underlit-power")


def _plain(
    root: etree._Element, layer: etree._Element, one: Drawn, name: str, paper_first: bool
) -> None:
    """A shape of its own (ring, paper, fold) with all its points in page mm."""
    element = append_shape(layer, one.part.shapes[0])
    element.attrib["id"] = name
    element.attrib[MADE] = f"{ACTION}:{name}"
    element.attrib[LABEL] = one.part.title
    for key, value in one.more.items():
        element.attrib[UNDERLIT + key] = value
    element.attrib["transform"] = matrix_text(mm_to_local(root, layer))
    element.tail = "\n  "
    if one.key == "collar" and paper_first:
        etree._Element.insert(find_layers(root, "tape")[0], 0, element)
