"""The drawing as others get it: its settings inside, no path of its maker's computer."""

from __future__ import annotations

import copy
import json
from collections.abc import Mapping
from typing import Any

from lxml import etree

from .names import INKSCAPE, SODIPODI, UNDERLIT

#: Attributes in which the host notes where its user keeps files, or how her screen looks.
PRIVATE = (
    f"{SODIPODI}docname", f"{SODIPODI}docbase", f"{SODIPODI}absref", f"{INKSCAPE}output_extension",
    f"{INKSCAPE}export-filename", f"{INKSCAPE}window-x", f"{INKSCAPE}window-y",
    f"{INKSCAPE}window-width", f"{INKSCAPE}window-height", f"{INKSCAPE}window-maximized",
)  # fmt: skip


def to_hand_on(root: etree._Element, based_on: str, settings: Mapping[str, Any]) -> bytes:
    """The drawing with a shipped profile and all that differs from it, as bytes."""
    handed = copy.deepcopy(root)
    handed.set(UNDERLIT + "profile", based_on)
    handed.attrib.pop(UNDERLIT + "settings", None)
    if settings:
        handed.set(UNDERLIT + "settings", json.dumps(settings, ensure_ascii=False))
    for element in handed.iter(etree.Element):
        for name in PRIVATE:
            element.attrib.pop(name, None)
    return etree.tostring(handed.getroottree(), encoding="UTF-8", xml_declaration=True)
