"""Numbers of windows that the tool wrote on the Openings layer, moved to where they are seen."""

from __future__ import annotations

from collections.abc import Sequence

from lxml import etree

from underlit.markup.primitives import Text

from .laying import made_by
from .names import SVG, UNDERLIT
from .write_drawing import append_item

#: What draws the windows on the Openings layer, and the attribute that names them.
OPENINGS = "prepare_card"
OPENING = UNDERLIT + "opening"


def move_numbers(root: etree._Element, numbers: Sequence[tuple[str, Text]]) -> None:
    """Write the numbers of windows (by name) where nothing that lies above hides them.

    Only those that the tool has written there.
    """
    labels = dict(numbers)
    for group in made_by(root, "openings", OPENINGS):
        old = next(group.iterchildren(SVG + "text"), None)
        label = labels.get(group.attrib.get(OPENING, ""))
        if old is None or label is None:
            continue
        new = append_item(group, label)
        new.tail = old.tail
        etree._Element.replace(group, old, new)
