"""What the tool made, and how it is taken out without anything of the maker's.

A group that the tool made may hold things of the maker's: drawn or pasted into it in the editor.
Those stay where they are on the page when the group goes.
"""

from __future__ import annotations

from collections.abc import Iterable

from lxml import etree

from .names import SVG, UNDERLIT, local_name

GROUP = SVG + "g"
MADE = UNDERLIT + "made"
PIN = UNDERLIT + "pin"
_FEATURE = UNDERLIT + "feature"

#: What the editor puts beside objects, or inside them, and draws nothing itself.
_WORDS = frozenset({"title", "desc", "metadata", "tspan"})

#: Properties in the order in which the tool writes them, by the elements that have them: parts,
#: then what is drawn on the tool's own layers.
_STROKE = "stroke stroke-width stroke-dasharray stroke-linecap stroke-linejoin stroke-opacity"
_PART = {
    words
    for fill in ("fill", "fill fill-opacity fill-rule")
    for words in (f"{fill} stroke", f"{fill} {_STROKE}")
}
_MARK = {
    "fill stroke",
    "fill stroke stroke-width stroke-linejoin stroke-linecap",
    "fill fill-opacity fill-rule stroke",
    "fill fill-opacity fill-rule stroke stroke-width stroke-linejoin",
}
_LETTERS = "font-family font-weight font-style font-size line-height text-anchor fill stroke"
_TEXT = {_LETTERS, f"{_LETTERS} stroke-width stroke-linejoin paint-order"}
_STYLES = {
    "rect": _PART - {"fill stroke"},
    "circle": _PART | _MARK,
    "path": _PART | _MARK,
    "text": _TEXT,
}


def is_made(element: etree._Element) -> bool:
    """Whether the tool made it and nobody copied it: the mark names its own id."""
    own = element.attrib.get("id")
    return bool(own) and element.attrib.get(MADE, "").partition(":")[2] == own


def is_look(name: str) -> bool:
    """Whether an attribute of a group says where and how its objects are drawn."""
    return not name.startswith("{") and name not in {"id", "role"} and not name.startswith("data-")


def take_out(elements: Iterable[etree._Element]) -> None:
    """Take objects of the tool out of the drawing; what the maker put into them stays."""
    for element in elements:
        parent = element.getparent()
        if parent is None:
            continue
        place = parent.index(element)
        for kept in _kept_of(element):
            kept.tail = "\n"
            place += 1
            etree._Element.insert(parent, place, kept)
        etree._Element.remove(parent, element)


def _kept_of(element: etree._Element) -> list[etree._Element]:
    """What is the maker's in a group of the tool's, in a plain group that carries its look."""
    kept: list[etree._Element] = []
    for child in list(element):
        if not isinstance(child.tag, str):
            continue
        if _is_theirs(child):
            kept.append(child)
        elif child.tag == GROUP:
            kept += _kept_of(child)
    looks = {key: value for key, value in element.attrib.items() if is_look(key)}
    if not (kept and looks):
        return kept
    group = etree.Element(GROUP, looks)
    for child in kept:
        child.tail = None
        etree._Element.append(group, child)
    return [group]


def _is_theirs(element: etree._Element) -> bool:
    """Whether the maker put it there, or pinned it; of a group, whether all in it is theirs."""
    if element.attrib.get(PIN) == "true":
        return True
    if is_made(element):
        return False
    if element.tag == GROUP:
        return all(_is_theirs(child) for child in element if isinstance(child.tag, str))
    return not _is_drawn(element)


def _is_drawn(element: etree._Element) -> bool:
    """Whether the tool drew a thing inside one of its groups: known by how its style is written."""
    name = local_name(element.tag)
    if name in _WORDS or _FEATURE in element.attrib:
        return True
    style = element.attrib.get("style", "")
    words = " ".join(part.partition(":")[0].strip() for part in style.split(";") if part.strip())
    return words in _STYLES.get(name, ())
