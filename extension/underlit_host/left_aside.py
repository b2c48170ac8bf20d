"""Text and pictures of a bare drawing, which are no outlines: told, never lost."""

from __future__ import annotations

from collections.abc import Collection

from lxml import etree

from underlit.language import say, say_count

from .arranging import is_hidden, role_of
from .meaning import in_short, is_stored, title
from .names import LABEL, PICTURES, SVG, TEXTS, local_name

#: So much of a text is quoted.
QUOTED = 24


def left_aside(root: etree._Element) -> tuple[str, ...]:
    """A sentence on text and one on pictures that stand on no layer of a card; () without."""
    told = []
    texts = [_quoted(element) for element in _outside(root, TEXTS)]
    if texts:
        told.append(
            say_count(
                "{names} is text, and I read outlines only. If it is to be cut, turn it into "
                "outlines (Path > Object to Path) and run this again.",
                "{names} are texts, and I read outlines only. If they are to be cut, turn them "
                "into outlines (Path > Object to Path) and run this again.",
                len(texts),
                names=in_short(texts),
            )
        )
    pictures = [title(element, say("image")) for element in _outside(root, PICTURES)]
    if pictures:
        told.append(
            say_count(
                "{names} is a picture, and I read outlines only. If it shows what is to be cut, "
                "trace it (Path > Trace Bitmap) and run this again.",
                "{names} are pictures, and I read outlines only. If they show what is to be cut, "
                "trace them (Path > Trace Bitmap) and run this again.",
                len(pictures),
                names=in_short(pictures),
            )
        )
    return tuple(told)


def _outside(root: etree._Element, tags: Collection[str]) -> list[etree._Element]:
    """What is seen of these and stands in no role."""
    return [
        element
        for element in root.iter(SVG + "*")
        if local_name(element.tag) in tags
        and role_of(element) is None
        and not is_stored(element)
        and not any(is_hidden(node) for node in (element, *element.iterancestors()))
    ]


def _quoted(text: etree._Element) -> str:
    """What the maker knows a text by: a label that she gave, else its words."""
    words = " ".join("".join(text.itertext()).split())
    short = words if len(words) <= QUOTED else f"{words[:QUOTED].rstrip()}..."
    return text.attrib.get(LABEL) or f'"{short}"'
