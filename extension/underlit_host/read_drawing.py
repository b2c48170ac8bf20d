"""SVG digested once: a drawing's root to plain shapes in page millimetres."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from lxml import etree

from underlit.errors import UnreadableDrawing
from underlit.language import say
from underlit.model.drawing import Drawing

from .context import Context
from .found import make_parts, make_shapes
from .names import SVG, UNDERLIT, local_name
from .page import read_page
from .references import References
from .styles import INITIAL, Cascade
from .walk import Walk


def read_drawing(document: etree._Element | etree._ElementTree, name: str) -> Drawing:
    """Read a drawing from its root element (or the document), lxml's own or inkex's.

    What cannot be read of single objects becomes remarks. Raises UnreadableDrawing for a page
    without a usable size, settings that are not JSON, and clones beyond all measure.
    """
    root: Any = document.getroot() if isinstance(document, etree._ElementTree) else document
    if local_name(root.tag) != "svg":
        raise UnreadableDrawing(say("This file is no SVG drawing: its first element is not <svg>."))
    page, matrix, viewport = read_page(root)
    cascade = Cascade(_rules(root))
    style = cascade.unhidden(cascade.style(INITIAL, root, root.attrib))
    walk = Walk(References(root), cascade)
    walk.read(root, Context(matrix, style, viewport, None, "", {}))
    shapes, remarks = make_shapes(walk.register.found)
    side = root.attrib.get(UNDERLIT + "side", "front").strip().lower()
    return Drawing(
        name=name,
        page=page,
        shapes=shapes,
        parts=make_parts(walk.register.parts),
        remarks=remarks,
        layers=tuple(walk.layers),
        profile=root.attrib.get(UNDERLIT + "profile", "").strip() or None,
        settings=_json(root.attrib.get(UNDERLIT + "settings", ""), "underlit:settings"),
        side="back" if side == "back" else "front",
        side_word=side,
        remembered=_remembered(walk.remembered),
    )


def _remembered(text: str) -> Mapping[str, str]:
    """What the tool wrote on its own layer; nothing where that was damaged."""
    try:
        return {key: str(value) for key, value in _json(text, "underlit:remembered").items()}
    except UnreadableDrawing:
        return {}


def _rules(root: etree._Element) -> Mapping[object, list[Mapping[str, str]]] | None:
    sheets = list(root.iter(SVG + "style"))
    if not sheets:
        return None
    from .style_sheets import match_rules  # late: few drawings have style sheets

    return match_rules(root, sheets)


def _json(text: str, attribute: str) -> Mapping[str, Any]:
    """A JSON object of an attribute, empty without one. Raises UnreadableDrawing."""
    if not text.strip():
        return {}
    import json  # late: most drawings have no settings

    try:
        value = json.loads(text)
    except (ValueError, RecursionError):
        value = None
    if not isinstance(value, dict):
        raise UnreadableDrawing(
            say(
                "The settings that this drawing keeps in {attribute} cannot be read: they must be "
                "one JSON object, and they begin with {text}. Remove that attribute in the XML "
                "editor, or correct it.",
                attribute=attribute,
                text=repr(text.strip()[:24]),
            )
        )
    return value
