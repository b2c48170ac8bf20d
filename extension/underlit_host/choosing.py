"""Which objects Prepare is told to take as panel and back sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from lxml import etree

from underlit.errors import UnknownChoice
from underlit.language import say
from underlit.model.drawing import TOOL_ROLES
from underlit.workflows.pieces import (
    base_in_base,
    no_base,
    no_panel,
    outermost,
    pieces_of_plain,
)

from .arranging import PANEL, PART, adopt, bring, find_object, give_or_move, mark_panels
from .layers import Ids, own_role
from .left_aside import left_aside
from .meaning import (
    Meaning,
    check_outlines,
    has_die_cut,
    ids_of,
    in_short,
    just_inside,
    meaning_of,
    title,
)
from .names import CONTAINERS, SHAPES, SVG, UNDERLIT, local_name
from .read_drawing import read_drawing

PIECE = UNDERLIT + "piece"

Elements = list[etree._Element]


def arrange(
    root: etree._Element,
    panels: Sequence[str],
    bases: Sequence[str],
    selected: Sequence[str],
    selection: str,
) -> tuple[str, ...]:
    """Set the roles that were asked for on `root`; gives a sentence on what was left out.

    `panels` and `bases` are ids or numbers of pieces; `selected` are ids that the maker has
    selected, `selection` says as what: panel | base | none | auto (where none is named).
    A drawing that has nothing on Die cut yet gets all that has no role as such first, so that a
    chosen panel keeps its windows, wherever they stand. Raises UnknownChoice where a choice is
    no outline, or is something else for certain.
    """
    by_number = any(_is_number(root, name) for name in (*panels, *bases))
    bare = not has_die_cut(read_drawing(root, ""))
    if by_number and bare:
        adopt(root)
    bases, told = _without_numbers(root, bases)
    named = [_resolve(root, name, "--panel", "die-cut") for name in dict.fromkeys(panels)]
    sheets = [_resolve(root, name, "--base", "base") for name in dict.fromkeys(bases)]
    chosen = [_resolve(root, name, "--id") for name in dict.fromkeys(selected)]
    judged = selection != "auto" or not (panels or bases)  # what is named goes first
    meant = meaning_of(root, chosen, selection) if chosen and judged else Meaning()
    if bare and not by_number:
        adopt(root)
    if bare and selection == "auto":
        inner = just_inside(read_drawing(root, ""), meant.panels)
        meant = Meaning(bases=inner, told=meant.told) if inner else meant
    sheets = list(dict.fromkeys([*sheets, *meant.bases]))
    if named or meant.panels:
        edges = _take_panels(root, named, list(meant.panels))
        _check_apart(edges, sheets)
    if sheets:
        _take_bases(root, sheets)
    aside = left_aside(root) if bare and has_die_cut(read_drawing(root, "")) else ()
    return (*told, *meant.told, *aside)


def _is_number(root: etree._Element, name: str) -> bool:
    return name.isdecimal() and not _is_id(root, name)


def _without_numbers(
    root: etree._Element, bases: Sequence[str]
) -> tuple[Sequence[str], tuple[str, ...]]:
    """Back sheets that are asked for; by a number only as long as there is none.

    Once it has its role the other pieces have moved up: the same number would mean the next one.
    """
    there = [s.id for s in read_drawing(root, "").shapes if s.role == "base"] if bases else []
    numbers = [name for name in bases if there and _is_number(root, name)]
    told = tuple(
        say(
            "{there} is the back sheet already, so I took no piece {number}. To take another one, "
            "select it.",
            there=there[0],
            number=number,
        )
        for number in numbers
    )
    return [name for name in bases if name not in numbers], told


def _resolve(root: etree._Element, name: str, option: str, role: str = "") -> etree._Element:
    """The object of an id, of the number of a piece, or of a number that was clicked."""
    if not name.strip():
        raise UnknownChoice(
            say("{option} is empty: name the id of an outline or leave it out.", option=option)
        )
    if name.isdecimal() and not _is_id(root, name):
        return _piece(root, int(name))
    element = find_object(root, name, role)
    if element is root:
        raise UnknownChoice(
            say("{name} is the whole drawing; choose the outline itself.", name=name)
        )
    for node in (element, *element.iterancestors()):
        if PIECE in node.attrib:
            return _piece(root, int(node.attrib[PIECE]))
    if any(local_name(node.tag) not in CONTAINERS for node in element.iterancestors()):
        raise UnknownChoice(
            say(
                "{name} is only a pattern that clones or clips draw from; choose what you see on "
                "the page.",
                name=name,
            )
        )
    return element


def _is_id(root: etree._Element, name: str) -> bool:
    return any(element.attrib.get("id") == name for element in root.iter(SVG + "*"))


def _piece(root: etree._Element, number: int) -> etree._Element:
    lent = _lend_ids(root)
    pieces = pieces_of_plain(read_drawing(root, ""))
    chosen = pieces[number - 1].object if 1 <= number <= len(pieces) else ""
    found = find_object(root, chosen) if chosen else None
    for element, own in lent:
        if own is not None:
            element.attrib["id"] = own
        elif element is not found:
            del element.attrib["id"]
    if not 1 <= number <= len(pieces):
        if not pieces:
            raise UnknownChoice(
                say("There is no piece {number} in this drawing; it has none.", number=number)
            )
        raise UnknownChoice(
            say(
                "There is no piece {number} in this drawing; it has {pieces}.",
                number=number,
                pieces=len(pieces),
            )
        )
    if sum(piece.object == chosen for piece in pieces) > 1:
        raise UnknownChoice(
            say(
                "Piece {number} is combined with others in one path ({name}). Take them apart "
                "first (Path > Split Path, or Path > Break Apart).",
                number=number,
                name=chosen,
            )
        )
    assert found is not None
    return found


def _lend_ids(root: etree._Element) -> list[tuple[etree._Element, str | None]]:
    """Give each object an id of its own, so that a piece can be told from its number.

    Gives those that had none, or one that stands before them already, with that id.
    """
    ids, seen, lent = Ids(root), set(), []
    for element in root.iter(SVG + "*"):
        own = element.attrib.get("id")
        if (not own or own in seen) and local_name(element.tag) in {*SHAPES, "use"}:
            lent.append((element, own))
            element.attrib["id"] = ids.free("piece")
        seen.add(own)
    return lent


def _check_apart(panels: Iterable[etree._Element], bases: Iterable[etree._Element]) -> None:
    sheets = {element for base in bases for element in base.iter()}
    for element in panels:
        if element in sheets:
            raise UnknownChoice(
                say(
                    "{name} is chosen as the panel and as the back sheet; it can be only one of "
                    "them.",
                    name=title(element),
                )
            )


def _take_panels(root: etree._Element, named: Elements, selected: Elements) -> Elements:
    """Mark the outer edges of these: one for each named object, all outer ones selected."""
    _check_own([*named, *selected])
    for element in (*named, *selected):
        bring(root, element)
    check_outlines(root, [*named, *selected], "die-cut")
    groups = [[element] for element in named] + ([selected] if selected else [])
    edges = [_edges(root, group, several=group is selected) for group in groups]
    mark_panels(root, [element for found in edges for element in found])
    drawing = read_drawing(root, "")
    for found in edges:
        for element in found:
            why = no_panel(drawing, ids_of([element]))
            if why is not None:
                raise UnknownChoice(
                    say(
                        "{name} {why}, so it cannot be the panel. Select the outer edge of the "
                        "panel.",
                        name=title(element),
                        why=why,
                    )
                )
    return [element for found in edges for element in found]


def _check_own(elements: Iterable[etree._Element]) -> None:
    """Raise UnknownChoice for what Underlit draws itself and for layers of other things."""
    for element in elements:
        if any(own_role(node) in TOOL_ROLES for node in (element, *element.iterancestors())):
            raise UnknownChoice(
                say(
                    "{name} is drawn by Underlit; choose an outline of your own.",
                    name=title(element),
                )
            )
        if own_role(element) not in (None, "die-cut", "base"):
            raise UnknownChoice(
                say(
                    "{name} is a layer for something else; choose the outline itself.",
                    name=title(element),
                )
            )


def _edges(root: etree._Element, elements: Elements, several: bool) -> Elements:
    """The objects among these, or in them, that draw the outer edges."""
    names = outermost(read_drawing(root, ""), ids_of(elements))
    if len(names) > 1 and not several:
        raise UnknownChoice(
            say(
                "{name} holds {number} separate outlines ({names}); choose the one that is the "
                "panel's outer edge.",
                name=title(elements[0]),
                number=len(names),
                names=in_short(names),
            )
        )
    inside = {element.attrib.get("id"): element for top in elements for element in top.iter()}
    found = [inside[name] for name in names if name in inside]
    return found or elements


def _take_bases(root: etree._Element, elements: Elements) -> None:
    """Bring these on Base, unless they are known to be something else."""
    _check_own(elements)
    check_outlines(root, elements, None, base=True)
    ids = ids_of(elements)
    why = no_base(read_drawing(root, ""), ids)
    name = title(elements[0])
    if why is not None:
        raise UnknownChoice(
            say(
                "{name} {why}, so it cannot be the back sheet. Choose the edge of the back sheet "
                "(if it has holes, group them with it first).",
                name=name,
                why=why,
            )
        )
    for element in elements:
        give_or_move(root, element, "base")
        for node in element.iter(SVG + "*"):
            if node.attrib.get(PART) == PANEL:
                del node.attrib[PART]
    check_outlines(root, elements, "base", base=True)
    other = base_in_base(read_drawing(root, ""), ids)
    if other is not None:
        raise UnknownChoice(
            say(
                "{name} lies inside {other}, which is a back sheet already. Move {other} off the "
                "Base layer first if it is none.",
                name=name,
                other=other,
            )
        )
