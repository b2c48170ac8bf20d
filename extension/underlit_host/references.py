"""Elements by id, what a paint server paints, and how much clones draw."""

from __future__ import annotations

from collections import Counter

from lxml import etree

from underlit.errors import UnreadableDrawing
from underlit.language import say, thousands

from .names import SVG, XLINK_HREF, local_name
from .styles import read_declarations_of, read_opacity

_IDS = etree.XPath("//@id", smart_strings=False)

#: A drawing whose clones draw more elements than this is refused.
MOST_CLONED = 200_000

#: Clones of clones deeper than this are refused.
DEEPEST_CLONE = 500

_GRADIENTS = frozenset({"linearGradient", "radialGradient", "meshgradient"})
_PAINTS = _GRADIENTS | {"pattern", "hatch", "solidColor", "solidcolor", "mesh"}


def href(element: etree._Element) -> str | None:
    """The id that an element's link names; empty for a link out of the drawing."""
    link = element.attrib.get(XLINK_HREF) or element.attrib.get("href")
    if link is None:
        return None
    link = link.strip()
    return link[1:] if link.startswith("#") else ""


class References:
    """Elements of one drawing by id; the first one of an id counts."""

    def __init__(self, root: etree._Element) -> None:
        self._root = root
        self._elements: dict[str, etree._Element] | None = None
        self._paints: dict[str, bool] = {}
        counts = Counter(_IDS(root))
        self.repeated = frozenset(ident for ident, count in counts.items() if count > 1)

    def find(self, ident: str | None) -> etree._Element | None:
        if not ident:
            return None
        if self._elements is None:
            self._elements = {}
            for element in self._root.iter(etree.Element):
                own = element.attrib.get("id")
                if own is not None:
                    self._elements.setdefault(own, element)
        return self._elements.get(ident)

    def paints(self, ident: str) -> bool:
        """Whether the paint of this id leaves anything visible."""
        known = self._paints.get(ident)
        if known is None:
            known = self._paints[ident] = self._is_paint(self.find(ident))
        return known

    def _is_paint(self, element: etree._Element | None) -> bool:
        if element is None or local_name(element.tag) not in _PAINTS:
            return False
        if local_name(element.tag) not in _GRADIENTS:
            return True
        seen: set[etree._Element] = set()
        while element is not None and element not in seen:
            seen.add(element)
            stops = list(element.iter(SVG + "stop"))
            if stops:
                return any(_stop_opacity(stop) > 0.0 for stop in stops)
            element = self.find(href(element))
        return False


def _stop_opacity(stop: etree._Element) -> float:
    own = read_declarations_of(stop.attrib.get("style", ""), "stop-opacity")
    return read_opacity(own or stop.attrib.get("stop-opacity", "1"))


class Census:
    """Counts what clones draw before anything is drawn."""

    def __init__(self, references: References) -> None:
        self._references = references
        self._sizes: dict[etree._Element, int] = {}
        self._total = 0

    def add(self, target: etree._Element) -> None:
        """A clone of `target` will be drawn. Raises UnreadableDrawing where it is too much."""
        self._total += self._size(target)
        if self._total > MOST_CLONED:
            raise UnreadableDrawing(
                say(
                    "The clones in this drawing draw more than {most} objects; that is no card. "
                    "Remove clones of clones, or draw fewer.",
                    most=thousands(MOST_CLONED),
                )
            )

    def _size(self, target: etree._Element) -> int:
        """Elements that a clone of the target draws, clones inside counted in full."""
        opened: dict[etree._Element, tuple[int, list[etree._Element]]] = {}
        stack = [target]
        while stack:
            top = stack[-1]
            if top in self._sizes:
                stack.pop()
            elif top in opened:
                own, inner = opened[top]
                self._sizes[top] = own + sum(self._sizes.get(one, 0) for one in inner)
                stack.pop()
            else:
                opened[top] = own, inner = self._open(top)
                stack += [one for one in inner if one not in self._sizes and one not in opened]
        return self._sizes[target]

    def _open(self, element: etree._Element) -> tuple[int, list[etree._Element]]:
        own = sum(1 for _ in element.iter(etree.Element))
        found = (self._references.find(href(use)) for use in element.iter(SVG + "use"))
        return own, [target for target in found if target is not None]
