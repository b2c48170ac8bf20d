"""What Prepare draws: the Openings layer and a back sheet."""

from __future__ import annotations

from lxml import etree
from shapely.geometry.base import BaseGeometry

from underlit.errors import UnknownChoice
from underlit.language import say
from underlit.markup.openings import base_region
from underlit.markup.primitives import Group
from underlit.workflows.prepare import Preparation

from .arranging import add_layers, openings_layer
from .layers import Ids, add_made, find_layers, mm_to_local, new_layer, usable_layers
from .write_drawing import append_group, matrix_text, region_data, region_paint

ACTION = "prepare_card"

#: How far a drawn back sheet keeps inside the panel's edge unless asked otherwise (mm).
BASE_MARGIN = 1.6

#: ... and never farther (mm).
MOST_MARGIN = 50.0


def margin(text: str) -> float:
    """Reader of the option that says how far inside the panel's edge a back sheet is drawn (mm)."""
    try:
        length = float(text)
    except ValueError:
        length = -1.0
    if not 0.0 <= length <= MOST_MARGIN:
        raise UnknownChoice(
            say(
                "--base-margin is a length from 0 to {most} (mm), not {text}.",
                most=f"{MOST_MARGIN:g}",
                text=repr(text),
            )
        )
    return length


def draw_preparation(root: etree._Element, outcome: Preparation) -> None:
    """Missing layers, the Openings layer, and the back sheet if one is wanted."""
    add_layers(root, outcome.layers)
    draw_openings(root, outcome.groups)
    if outcome.base is not None:
        draw_base(root, outcome.base)


def draw_openings(root: etree._Element, groups: tuple[Group, ...]) -> None:
    """Replace what the tool put on the Openings layer.

    Each window stands in the layer by itself: a click then selects that window alone.
    """
    layer = openings_layer(root)
    ids = Ids(root)
    to_local = mm_to_local(root, layer)
    if groups and not layer.text:
        layer.text = "\n    "
    for group in groups:
        element = append_group(layer, group, ACTION, "underlit-opening", ids)
        element.attrib["transform"] = matrix_text(to_local)


def draw_base(root: etree._Element, area: BaseGeometry) -> None:
    """Draw a back sheet (page mm) on the Base layer."""
    layer = next(iter(usable_layers(root, "base")), None)
    if layer is None:
        openings = find_layers(root, "openings")[0]
        layer = new_layer(root, "base", before=[openings, *openings.iterancestors()][-2])
    region = base_region(area)
    element = add_made(layer, "path", ACTION, "underlit-back-sheet", Ids(root))
    element.attrib["transform"] = matrix_text(mm_to_local(root, layer))
    element.attrib["d"] = region_data(region)
    element.attrib["style"] = region_paint(region)
    element.tail = "\n  "
