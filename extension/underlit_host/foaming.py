"""Foam, cover and vellum that the tool lays -> SVG: each on its layer, marked as made."""

from __future__ import annotations

from collections.abc import Sequence

from lxml import etree

from underlit.workflows.laying_foam import LaidSheet

from .arranging import add_layers
from .layers import MADE, find_layers, mm_to_local
from .laying import made_by, remove_all
from .names import LABEL, UNDERLIT
from .parts_markup import append_shape
from .write_drawing import matrix_text

ACTION = "lay_foam"


def remove_foam(root: etree._Element, roles: Sequence[str]) -> None:
    """Take away what the action laid earlier; pinned things and copies stay."""
    for role in roles:
        remove_all(made_by(root, role, ACTION))


def draw_foam(root: etree._Element, sheets: Sequence[LaidSheet]) -> None:
    """Put each sheet at the end of its layer, all numbers in page mm."""
    add_layers(root, {one.role for one in sheets if not find_layers(root, one.role)})
    for one in sheets:
        layer = find_layers(root, one.role)[-1]
        element = append_shape(layer, one.shape)
        element.attrib["id"] = one.name
        element.attrib[MADE] = f"{ACTION}:{one.name}"
        element.attrib[LABEL] = one.title
        for key, value in one.more:
            element.attrib[UNDERLIT + key] = value
        element.attrib["transform"] = matrix_text(mm_to_local(root, layer))
        element.tail = "\n  "
