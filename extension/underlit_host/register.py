"""The register of a walk: shapes, parts and remarks under the names that makers know."""

from __future__ import annotations

from collections.abc import Mapping

from lxml import etree

from underlit.model.drawing import Remark

from .context import Context, Name, merged, part_kind
from .found import FoundPart, FoundShape
from .references import References
from .transforms import Matrix
from .whereabouts import whereabouts


class Register:
    """`found` has shapes and remarks in drawing order, `parts` the parts."""

    def __init__(self, references: References) -> None:
        self.found: list[FoundShape | Remark] = []
        self.parts: list[FoundPart] = []
        self._references = references
        self._numbers: dict[str, int] = {}
        self._told: set[str] = set()

    def name(self, element: etree._Element, context: Context) -> Name:
        """Id of what the maker can click, or layer label and number. Counts the object."""
        if context.chain and context.name is not None:
            return context.name
        if context.name is None:  # not inside a part
            self._numbers[context.label] = self._numbers.get(context.label, 0) + 1
        ident = element.attrib.get("id")
        if ident:
            return ident, True
        return context.name or (f"{context.label} {self._numbers[context.label]}", False)

    def name_of(self, opened: int | None, element: etree._Element, context: Context) -> Name:
        """The name of the part that the object has just opened, else the object's own."""
        return self.name(element, context) if opened is None else self.parts[opened].name

    def remark(
        self,
        kind: str,
        element: etree._Element,
        context: Context,
        own: Mapping[str, str],
        detail: str = "",
        name: Name | None = None,
    ) -> None:
        """Note something that is not a shape (nothing in layers that are not read)."""
        if context.role is None:
            return
        name = name or self.name(element, context)
        in_part = context.part is not None or part_kind(context, own) is not None
        at = whereabouts(element, context.matrix, context.viewport, self._references)
        self.found.append(Remark(kind, *name, context.role, at, in_part, detail, context.part))

    def check_id(
        self, name: Name, element: etree._Element, context: Context, own: Mapping[str, str]
    ) -> None:
        """Say once of each id that several objects have it."""
        ident = element.attrib.get("id")
        if ident in self._references.repeated and ident not in self._told and not context.chain:
            self._told.add(ident)
            self.remark("duplicate-id", element, context, own, name=name)

    def part(
        self, element: etree._Element, context: Context, own: Mapping[str, str], matrix: Matrix
    ) -> tuple[int | None, bool]:
        """The part that an element's content belongs to, and whether it begins here.

        Where a clone itself is the part, its target (or the first part inside) only completes it.
        """
        if context.role is None:
            return None, False
        kind = part_kind(context, own)
        if context.part_is_clone and context.part is not None:
            part = self.parts[context.part]
            if context.frame is not None or (kind is not None and not part.settled):
                part.matrix = matrix
                part.attributes = merged(context, own)
                part.settled = part.settled or kind is not None
            return context.part, False
        if kind is None:
            return context.part, False
        name = self.name(element, context)
        self.check_id(name, element, context, own)
        clone = context.chain[-1] if context.chain else None
        given = merged(context, own)
        outer = context.around or context.matrix
        self.parts.append(FoundPart(name, context.role, kind, given, matrix, outer, clone))
        return len(self.parts) - 1, True
