"""What a walk through a drawing has found, before curves are followed."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
from shapely.geometry.base import BaseGeometry

from underlit.language import say
from underlit.model.drawing import Contour, PartInstance, Remark, Shape, Stroke
from underlit.records import record
from underlit.units import MM_PER_PX

from .context import Name
from .contours import make_contours, middle
from .lengths import Unreadable, read_length
from .paths import Outline
from .references import References
from .styles import Style, is_painted
from .transforms import Matrix


class FoundPart:
    """A part while its group is being read."""

    __slots__ = ("attributes", "clone", "kind", "matrix", "name", "outer", "role", "settled")

    def __init__(
        self,
        name: Name,
        role: str,
        kind: str,
        attributes: Mapping[str, str],
        matrix: Matrix,
        outer: Matrix,
        clone: object,
    ) -> None:
        self.name = name
        self.role = role
        self.kind = kind
        self.attributes = attributes
        self.matrix = matrix
        self.outer = outer
        self.clone = clone
        self.settled = False


class FoundShape:
    """A shape in its own units."""

    __slots__ = ("attributes", "clip", "matrix", "name", "outline", "paint", "part", "role", "tag")

    def __init__(
        self,
        name: Name,
        role: str,
        tag: str,
        outline: Outline,
        matrix: Matrix,
        paint: Paint,
        clip: BaseGeometry | None,
        attributes: Mapping[str, str],
        part: int | None,
    ) -> None:
        self.name = name
        self.role = role
        self.tag = tag
        self.outline = outline
        self.matrix = matrix
        self.paint = paint
        self.clip = clip
        self.attributes = attributes
        self.part = part

    @property
    def paint_counts(self) -> bool:
        return paint_counts(self.role, self.part)


@record
class Paint:
    """What a style paints; `width` is 0 where nothing is stroked."""

    filled: bool
    fill_rule: str
    width: float
    cap: str
    join: str
    miter_limit: float
    scales: bool


def paint_counts(role: str, part: int | None) -> bool:
    """Whether an object is what it paints (tape), not its outline."""
    return role == "tape" and part is None


class Painter:
    """Reads paint from styles; each style is read once."""

    def __init__(self, references: References) -> None:
        self._references = references
        self._known: dict[tuple[Style, tuple[float, float], bool], Paint] = {}

    def paint(self, style: Style, viewport: tuple[float, float], counts: bool) -> Paint:
        """Raises Unreadable for a stroke width that is no length, where paint counts."""
        key = (style, viewport, counts)
        paint = self._known.get(key)
        if paint is None:
            paint = self._known[key] = self._read(style, viewport, counts)
        return paint

    def _read(self, style: Style, viewport: tuple[float, float], counts: bool) -> Paint:
        paints = self._references.paints
        width = 0.0
        if is_painted(style, "stroke", paints):
            about = math.hypot(*viewport) / math.sqrt(2.0)
            try:
                width = read_length(style.get("stroke-width", "1"), about, say("stroke width"))
            except Unreadable:
                if counts:
                    raise
        cap, join = style.get("stroke-linecap", "butt"), style.get("stroke-linejoin", "miter")
        return Paint(
            filled=is_painted(style, "fill", paints),
            fill_rule="evenodd" if style.get("fill-rule", "") == "evenodd" else "nonzero",
            width=max(width, 0.0),
            cap=cap if cap in {"round", "square"} else "butt",
            join=join if join in {"round", "bevel"} else "miter",
            miter_limit=_limit(style.get("stroke-miterlimit", "4")),
            scales=style.get("vector-effect", "") != "non-scaling-stroke",
        )


def _limit(text: str) -> float:
    try:
        limit = read_length(text, 0.0)
    except Unreadable:
        return 4.0
    return limit if limit >= 1.0 else 4.0


def make_shapes(
    found: Sequence[FoundShape | Remark],
) -> tuple[tuple[Shape, ...], tuple[Remark, ...]]:
    """Follow all curves at once; what cannot be placed becomes a remark."""
    sources = [item for item in found if isinstance(item, FoundShape)]
    contours = iter(make_contours([(source.outline, source.matrix) for source in sources]))
    shapes: list[Shape] = []
    remarks: list[Remark] = []
    for item in found:
        if isinstance(item, Remark):
            remarks.append(item)
            continue
        followed = next(contours)
        filled = item.paint.filled and any(len(c.points) > 2 for c in followed or ())
        if followed is None:
            words = say("its coordinates are too large or no numbers")
            remarks.append(_remark(item, "unreadable", words))
        elif not followed:
            remarks.append(_remark(item, "no-size", ""))
        elif item.paint_counts and not (filled or item.paint.width > 0.0):
            remarks.append(_remark(item, "unpainted", ""))
        else:
            shapes.append(_shape(item, len(shapes), followed, filled))
    return tuple(shapes), tuple(remarks)


def _remark(found: FoundShape, kind: str, detail: str) -> Remark:
    at = middle(found.outline, found.matrix)
    return Remark(kind, *found.name, found.role, at, found.part is not None, detail)


def _shape(found: FoundShape, index: int, contours: tuple[Contour, ...], filled: bool) -> Shape:
    return Shape(
        found.name[0],
        found.name[1],
        index,
        found.role,
        found.tag,
        contours,
        filled,
        found.paint.fill_rule,
        _stroke(found.paint, found.matrix),
        found.clip,
        found.attributes,
        found.part,
        found.attributes.get("feature"),
    )


def _stroke(paint: Paint, matrix: Matrix) -> Stroke | None:
    """A stroke that does not scale is as wide as its CSS px (measured on the editor)."""
    if paint.width <= 0.0:
        return None
    a, b, c, d, _, _ = matrix
    linear = np.array(((a, c), (b, d))) if paint.scales else np.eye(2) * MM_PER_PX
    return Stroke(paint.width, paint.cap, paint.join, paint.miter_limit, linear)


def make_parts(found: Sequence[FoundPart]) -> tuple[PartInstance, ...]:
    """Parts with their ids; those that one clone draws are numbered (`id#1`, `id#2`)."""
    totals: dict[object, int] = {}
    for part in found:
        if part.clone is not None:
            totals[part.clone] = totals.get(part.clone, 0) + 1
    seen: dict[object, int] = {}
    parts = []
    for index, part in enumerate(found):
        ident = part.name[0]
        if totals.get(part.clone, 1) > 1:
            seen[part.clone] = seen.get(part.clone, 0) + 1
            ident = f"{ident}#{seen[part.clone]}"
        parts.append(
            PartInstance(
                ident,
                part.name[1],
                index,
                part.role,
                part.kind,
                part.attributes,
                _array(part.matrix),
                _array(part.outer),
            )
        )
    return tuple(parts)


def _array(matrix: Matrix) -> np.ndarray:
    a, b, c, d, e, f = matrix
    return np.array(((a, c, e), (b, d, f)))
