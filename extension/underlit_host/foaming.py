"""Foam, cover and vellum that the tool lays -> SVG: each on its layer, marked as made."""

from __future__ import annotations

from collections.abc import Sequence

from lxml import etree

from underlit.workflows.laying_foam import LaidSheet

from .arranging import add_layers
from .layers import usable_layers
from .laying import made_by
from .made import take_out
from .parts_markup import append_made_shape

ACTION = "lay_foam"


def remove_foam(root: etree._Element, roles: Sequence[str]) -> None:
    """Take away what the action laid earlier; pinned things and copies stay."""
    for role in roles:
        take_out(made_by(root, role, ACTION))


def draw_foam(root: etree._Element, sheets: Sequence[LaidSheet]) -> None:
    """Put each sheet at the end of its layer, all numbers in page mm."""
    add_layers(root, {one.role for one in sheets if not usable_layers(root, one.role)})
    for one in sheets:
        layer = usable_layers(root, one.role)[-1]
        append_made_shape(
            root,
            layer,
            one.shape,
            name=one.name,
            title=one.title,
            action=ACTION,
            more=dict(one.more),
        )
