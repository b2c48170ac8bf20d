"""What every run must keep: plain words, whole files, and each object of the maker as it was."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import inkex
import numpy as np
from lxml import etree

SVG = "{http://www.w3.org/2000/svg}"
UNDERLIT = "{urn:underlit:card:1}"

#: Layers of the tool: what lies in them is not held to stay.
OWN_LAYERS = {"openings", "marks", "findings", "glow"}

#: What is no word of ours, unless it is quoted from the drawing.
_BAD = re.compile(r'(?<!")\b(?:nan|inf)\b|None|[{}]|  ')

#: Attributes of an object that say how it is painted from outside.
OUTER = ("style", "clip-path", "mask", "display", "opacity")

#: By how much what stands where it stood may be rounded, over the numbers of its transform.
ROUNDED = 1e-6


@dataclass(frozen=True)
class Thing:
    """An object of the maker with what its ancestors do to it."""

    tag: str
    attributes: tuple[tuple[str, str], ...]
    text: str
    outside: tuple[str, ...]
    transforms: tuple[str, ...]

    @property
    def named(self) -> str:
        """Enough to find it."""
        shown = " ".join(f"{key.rpartition('}')[2]}={value[:40]}" for key, value in self.attributes)
        return f"{self.tag.rpartition('}')[2]} {shown}"

    def is_kept_as(self, other: Thing) -> bool:
        """Whether the other is this one, with nothing but our marks added."""
        if (self.tag, self.text, self.outside) != (other.tag, other.text, other.outside):
            return False
        if not _same_place(self.transforms, other.transforms):
            return False
        now = dict(other.attributes)
        for key, value in self.attributes:
            if now.pop(key, None) != value:
                return False
        return all(key.startswith(UNDERLIT) or key == "id" for key in now)


def things(root: etree._Element, turned: bool) -> list[Thing]:
    """All of the maker's objects in document order; without light parts where they may turn."""
    return [_thing(e) for e in _hers(root, turned) if e is not root]


def _hers(element: etree._Element, turned: bool) -> Iterator[etree._Element]:
    if not isinstance(element.tag, str) or _is_ours(element) or (turned and _is_light(element)):
        return
    yield element
    for child in element:
        yield from _hers(child, turned)


def _is_ours(element: etree._Element) -> bool:
    own = element.get(UNDERLIT + "made", "").partition(":")[2]
    return (bool(own) and own == element.get("id")) or _is_own_layer(element)


def _is_own_layer(element: etree._Element) -> bool:
    label = element.get("{http://www.inkscape.org/namespaces/inkscape}label", "").strip().lower()
    return (element.get(UNDERLIT + "role") or label) in OWN_LAYERS


def _is_light(element: etree._Element) -> bool:
    return element.get(UNDERLIT + "part") == "light" or element.tag == SVG + "use"


def _thing(element: etree._Element) -> Thing:
    skipped = {UNDERLIT + "role", UNDERLIT + "part"}  # what prepare is there to set
    attributes = tuple(sorted((k, v) for k, v in element.attrib.items() if k not in skipped))
    outside = tuple(
        f"{key}={value}"
        for parent in element.iterancestors()
        for key in OUTER
        if (value := parent.get(key)) is not None
    )
    around = element.iterancestors()
    transforms = tuple(own for parent in around if (own := parent.get("transform")) is not None)
    return Thing(element.tag, attributes, (element.text or "").strip(), outside, transforms)


def _same_place(before: tuple[str, ...], after: tuple[str, ...]) -> bool:
    """Whether transforms of ancestors, the inmost first, do the same in all."""
    if before == after:
        return True
    try:
        was, now = (_composed(transforms) for transforms in (before, after))
    except (ValueError, TypeError):  # not to be read: then they must be word for word the same
        return False
    return bool(np.allclose(was, now, rtol=ROUNDED, atol=ROUNDED))


def _composed(transforms: tuple[str, ...]) -> np.ndarray:
    """The (2, 3) matrix of all transforms, as inkex reads them."""
    whole = inkex.Transform()
    for transform in transforms:
        whole = inkex.Transform(transform) @ whole
    return np.array(whole.matrix)


def lost(before: bytes, after: bytes, turned: bool = False, layered: bool = False) -> Thing | None:
    """The first object of the maker that is no more as it was; None: all are.

    Their order must stay too, but for actions that may put objects on layers (`layered`).
    """
    left = things(etree.fromstring(after), turned)
    for thing in things(etree.fromstring(before), turned):
        place = next((i for i, other in enumerate(left) if thing.is_kept_as(other)), None)
        if place is None:
            return thing
        left = left[:place] * layered + left[place + 1 :]
    return None


def faults_of_report(path: Path) -> list[str]:
    """What is wrong with a report's findings, as any reader of it would notice."""
    report = json.loads(path.read_text(encoding="utf-8"))
    faults = []
    for finding in report.get("findings", []):
        words = f"{finding['message']} {finding['remedy']}"
        quotes = finding["rule"] == "object-skipped"  # tells what stands in the drawing
        if not finding["message"] or (_BAD.search(words) and not quotes):
            faults.append(f"words of {finding['rule']}: {words}")
        if finding["at"] is not None and not all(abs(v) < 1e7 for v in finding["at"]):
            faults.append(f"place of {finding['rule']}: {finding['at']}")
    return faults
