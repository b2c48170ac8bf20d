"""Separate pieces of a drawing, and what an outline of it can be: panel, back sheet, neither."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.places import inner_places, reading_order
from ..interpretation.frames import BASE_MARGIN
from ..interpretation.outlines import Outlines, read_outlines
from ..interpretation.sheets import read_sheets
from ..language import say, say_count
from ..model.card import Card, Opening
from ..model.drawing import Drawing, Page, Shape
from ..records import record

#: Less of a panel than this can be a hole in it, but neither its back sheet nor a panel on it.
LARGE = 0.5

#: Cards are hardly ever smaller than this on their longer side (mm): a tag. Common practice, no
#: source.
SMALLEST_CARD = 25.0


@record
class Piece:
    """A separate piece of the drawing: the object that draws its edge, where, how large (mm)."""

    number: int
    object: str
    at: tuple[float, float]
    size: tuple[float, float]
    outline: BaseGeometry
    windows: tuple[BaseGeometry, ...]

    @property
    def openings(self) -> int:
        """How many windows are in it."""
        return len(self.windows)


def pieces_of(card: Card | Outlines) -> tuple[Piece, ...]:
    """Separate panels from top to bottom and left to right, with what is in each."""
    places = inner_places([panel.outline for panel in card.panels])
    windows: dict[int | None, list[BaseGeometry]] = {}
    for opening in card.openings:
        windows.setdefault(opening.panel, []).append(opening.outline)
    found = []
    for number, i in enumerate(reading_order(places), 1):
        outline = card.panels[i].outline
        x0, y0, x1, y1 = outline.bounds
        size, inside = (x1 - x0, y1 - y0), tuple(windows.get(i, ()))
        found.append(Piece(number, card.panels[i].object, places[i], size, outline, inside))
    return tuple(found)


def pieces_of_plain(drawing: Drawing) -> tuple[Piece, ...]:
    """Separate pieces of a drawing, as if no panel was marked.

    Back sheets that still lie beside all else count with them: choosing one of the pieces as
    the back sheet leaves the others their numbers.
    """
    plain = plain_outlines(drawing)
    base = [s for s in drawing.shapes if s.role == "base" and s.part is None and not s.feature]
    cut = shapely.union_all([panel.outline for panel in plain.panels])
    beside = [shape for shape in base if _hull(shape).disjoint(cut)]
    if not beside:
        return pieces_of(plain)
    shapes = [*cut_shapes(drawing), *beside]
    return pieces_of(_read([_unmarked(shape) for shape in shapes], drawing.page))


def _hull(shape: Shape) -> BaseGeometry:
    points = [point for contour in shape.contours for point in contour.points]
    return shapely.convex_hull(shapely.multipoints(points))


def numbered(pieces: Sequence[Piece], drawing: Drawing) -> tuple[Piece, ...]:
    """Pieces with the numbers by which they can be chosen."""
    numbers = {(piece.object, piece.at): piece.number for piece in pieces_of_plain(drawing)}
    return tuple(replace(p, number=numbers.get((p.object, p.at), p.number)) for p in pieces)


def plain_outlines(drawing: Drawing) -> Outlines:
    """The outlines of Die cut as if no panel was marked."""
    return _read([_unmarked(shape) for shape in cut_shapes(drawing)], drawing.page)


def cut_shapes(drawing: Drawing) -> list[Shape]:
    """What is drawn on Die cut."""
    return [s for s in drawing.shapes if s.role == "die-cut" and s.part is None and not s.feature]


def _read(shapes: Sequence[Shape], page: Page) -> Outlines:
    return read_outlines(shapes, page, shapely.Polygon())


def _unmarked(shape: Shape) -> Shape:
    if "part" not in shape.attributes:
        return shape
    attributes = {k: v for k, v in shape.attributes.items() if k != "part"}
    return replace(shape, attributes=attributes)


def marked(drawing: Drawing) -> bool:
    """Whether some outline is marked as the panel."""
    return any(s.role == "die-cut" and s.attributes.get("part") == "panel" for s in drawing.shapes)


def no_panel(drawing: Drawing, ids: frozenset[str]) -> str | None:
    """Why outlines, marked as the panel, can be none: what they are instead. None where they may.

    A window with nothing in it stays a window; one with outlines in it may be a panel inside a
    frame. A piece inside a window is none, unless it nearly fills it and is large enough for a
    card: one ring of a set of nested dies, or a panel with a border drawn round it.
    """
    plain = plain_outlines(drawing)
    if any(panel.object in ids for panel in plain.panels):
        return _hidden_behind(drawing, ids)
    for piece in plain.loose:
        window = plain.openings[piece.opening]
        if piece.object in ids and not _fills(piece.outline, window.outline):
            return say("lies inside window {number}", number=window.number)
    full = {piece.opening for piece in plain.loose}
    for i, opening in enumerate(plain.openings):
        if opening.object in ids and i not in full:
            return say(
                "is window {number} of a larger outline, with nothing in it", number=opening.number
            )
    return _hidden_behind(drawing, ids)


def _fills(piece: BaseGeometry, window: BaseGeometry) -> bool:
    """Whether a piece inside a window may be a card of its own."""
    x0, y0, x1, y1 = piece.bounds
    wide = max(x1 - x0, y1 - y0) >= SMALLEST_CARD
    return bool(wide and piece.area >= LARGE * window.area)


def _hidden_behind(drawing: Drawing, ids: frozenset[str]) -> str | None:
    """Whether another marked panel lies round this one."""
    seen = _read(cut_shapes(drawing), drawing.page)
    if not seen.panels or any(panel.object in ids for panel in seen.panels):
        return None
    return say("lies inside {name}, which is a panel already", name=seen.panels[0].object)


def outermost(drawing: Drawing, ids: frozenset[str]) -> tuple[str, ...]:
    """The objects among `ids` that draw separate pieces; else those that draw a frame's inside.

    An outline as large as the page is a piece here: it was chosen.
    """
    page = replace(drawing.page, width=0.0, height=0.0)
    plain = _read([_unmarked(shape) for shape in cut_shapes(drawing)], page)
    pieces = dict.fromkeys(panel.object for panel in plain.panels if panel.object in ids)
    if pieces:
        return tuple(pieces)
    full = {piece.opening for piece in plain.loose}
    inner = (o.object for i, o in enumerate(plain.openings) if i in full and o.object in ids)
    return tuple(dict.fromkeys(inner))


def around_all(drawing: Drawing, name: str, pieces: Collection[str]) -> bool:
    """Whether an object's outline on Die cut lies round all these pieces."""
    plain = plain_outlines(drawing)
    inside = {opening.object for opening in plain.openings}
    return len(plain.panels) == 1 and plain.panels[0].object == name and set(pieces) <= inside


def like_base(outlines: Outlines, ids: Collection[str]) -> bool:
    """Whether one of `ids` draws a line just inside the panel's edge: a back sheet, perhaps."""
    return any(opening.object in ids for opening in inner_edges(outlines))


def inner_edges(outlines: Outlines) -> tuple[Opening, ...]:
    """Openings that run just inside their panel's edge: back sheets on the wrong layer, perhaps."""
    found = []
    for opening in outlines.openings:
        if opening.panel is None or opening.through:
            continue
        panel = outlines.panels[opening.panel].outline
        apart = zip(panel.bounds, opening.outline.bounds, strict=True)
        if all(abs(a - b) <= BASE_MARGIN for a, b in apart):
            found.append(opening)
    return tuple(found)


def no_base(drawing: Drawing, ids: frozenset[str]) -> str | None:
    """Why outlines of Die cut can be no back sheet: what they are instead. None where they may.

    What holds windows that are no part of it is a panel, unless one of them is so large that
    it is a panel itself. What is small and lies in a panel is a window or a piece.
    """
    cut = cut_shapes(drawing)
    seen = _read(cut, drawing.page)
    if not any(panel.object in ids for panel in seen.panels):
        return _in_panel(seen, ids)
    before = plain_outlines(drawing)
    rest = [_unmarked(shape) for shape in cut if shape.id not in ids]
    after = _read(rest, drawing.page)
    if not after.panels:
        return say("is all that could be the panel")
    windows = {opening.object for opening in before.openings}
    freed = [panel for panel in after.panels if panel.object in windows]
    largest = max(panel.outline.area for panel in seen.panels if panel.object in ids)
    if any(panel.outline.area >= LARGE * largest for panel in freed) or not freed:
        return None
    return say_count(
        "has {number} window and looks like the panel itself",
        "has {number} windows and looks like the panel itself",
        len(freed),
    )


def _in_panel(seen: Outlines, ids: frozenset[str]) -> str | None:
    for opening in seen.openings:
        panel = None if opening.panel is None else seen.panels[opening.panel].outline
        if opening.object in ids and panel is not None:
            small = opening.outline.area < LARGE * panel.area
            number = opening.number
            return say("is window {number} of the panel", number=number) if small else None
    for piece in seen.loose:
        if piece.object in ids:
            small = piece.outline.area < LARGE * seen.panels[piece.panel].outline.area
            number = seen.openings[piece.opening].number
            return say("lies inside window {number}", number=number) if small else None
    return None


def base_in_base(drawing: Drawing, ids: frozenset[str]) -> str | None:
    """The back sheet that makes this one a hole in it, None without."""
    shapes = [s for s in drawing.shapes if s.role == "base" and s.part is None and not s.feature]
    sheets, _ = read_sheets(shapes, "base")
    if not sheets or any(sheet.object in ids for sheet in sheets):
        return None
    return sheets[0].object
