"""Which objects Prepare is told to take as panel and back sheet."""

from __future__ import annotations

from collections.abc import Sequence

from lxml import etree

from underlit.errors import UnknownChoice
from underlit.interpretation.contours import is_closed
from underlit.model.drawing import Drawing
from underlit.workflows.prepare import no_panel, pieces_of_plain, plain_outlines

from .arranging import adopt, find_object, give_or_move, ids_within, role_of, set_panels
from .names import SVG, UNDERLIT
from .read_drawing import read_drawing

PIECE = UNDERLIT + "piece"

#: Roles whose objects a stray selection may be without any meaning for Prepare.
_OTHERS = frozenset({"folds", "lights", "power", "tape", "foam", "cover", "diffuser"})


def arrange(
    root: etree._Element,
    panels: Sequence[str],
    bases: Sequence[str],
    selected: Sequence[str],
    selection: str,
) -> None:
    """Set the roles that were asked for on `root`.

    `panels` and `bases` are ids or numbers of pieces; `selected` are ids that the maker has
    selected, `selection` says as what: panel | base | none | auto. Without anything asked, a
    drawing that has nothing on Die cut yet gets all that has no role as such. Raises
    UnknownChoice where a choice is no outline or lies inside a window.
    """
    by_number = any(name.isdecimal() and not _is_id(root, name) for name in (*panels, *bases))
    if by_number and not _has_die_cut(read_drawing(root, "")):
        adopt(root)
    asked_panels = [_resolve(root, name) for name in panels]
    asked_bases = [_resolve(root, name) for name in bases]
    for name in selected:
        element = _resolve(root, name)
        kind = selection if selection != "auto" else _guess(root, element)
        {"panel": asked_panels, "base": asked_bases}.get(kind, []).append(element)
    for element in asked_bases:
        give_or_move(root, element, "base")
    if asked_panels:
        set_panels(root, asked_panels)
    elif not (by_number or _has_die_cut(read_drawing(root, ""))):
        adopt(root)
    if asked_panels or asked_bases:
        _check(root, asked_panels, asked_bases)


def _resolve(root: etree._Element, name: str) -> etree._Element:
    """The object of an id, of the number of a piece, or of a number that was clicked."""
    if name.isdecimal() and not _is_id(root, name):
        return _piece(root, int(name))
    element = find_object(root, name)
    if element is root:
        raise UnknownChoice(f"{name} is the whole drawing; choose the outline itself.")
    for node in (element, *element.iterancestors()):
        if PIECE in node.attrib:
            return _piece(root, int(node.attrib[PIECE]))
    return element


def _is_id(root: etree._Element, name: str) -> bool:
    return any(element.attrib.get("id") == name for element in root.iter(SVG + "*"))


def _piece(root: etree._Element, number: int) -> etree._Element:
    pieces = pieces_of_plain(read_drawing(root, ""))
    if not 1 <= number <= len(pieces):
        raise UnknownChoice(f"There is no piece {number}; the drawing has {len(pieces)}.")
    name = pieces[number - 1].object
    if sum(piece.object == name for piece in pieces) > 1:
        raise UnknownChoice(
            f"Piece {number} is combined with others in one path ({name}). Take them apart first "
            f"(Path > Split Path, or Path > Break Apart)."
        )
    return find_object(root, name)


def _guess(root: etree._Element, element: etree._Element) -> str:
    """What a selected object is probably meant as: the panel unless it is known otherwise."""
    role = role_of(element)
    if role == "base":
        return "base"
    if role is None:
        return "panel"
    if role != "die-cut":
        return "none"
    outlines = plain_outlines(read_drawing(root, ""))
    frame = outlines.frame_doubtful and not ids_within(element).isdisjoint(outlines.frames)
    return "panel" if frame or len(outlines.panels) > 1 else "none"


def _has_die_cut(drawing: Drawing) -> bool:
    return any(shape.role == "die-cut" for shape in drawing.shapes)


def _check(
    root: etree._Element, panels: Sequence[etree._Element], bases: Sequence[etree._Element]
) -> None:
    """Raise UnknownChoice where a chosen object draws no closed outline or lies in a window."""
    drawing = read_drawing(root, "")
    closed = {
        (shape.role, shape.id)
        for shape in drawing.shapes
        if shape.part is None and any(len(c.points) > 2 and is_closed(c) for c in shape.contours)
    }
    for elements, role, what in ((panels, "die-cut", "panel"), (bases, "base", "back sheet")):
        for element in elements:
            name = element.attrib.get("id", "")
            ids = ids_within(element)
            if not any((role, one) in closed for one in ids):
                raise UnknownChoice(
                    f"{name} is no closed outline, so it cannot be the {what}. Select the outer "
                    f"edge of the {what}."
                )
            why = no_panel(drawing, ids) if role == "die-cut" else None
            if why is not None:
                raise UnknownChoice(
                    f"{name} {why}, so it cannot be the panel. Select the outer edge of the panel."
                )
