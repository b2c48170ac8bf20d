"""What a maker means by what she has selected, and why something is no outline."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from lxml import etree

from underlit.errors import UnknownChoice
from underlit.interpretation.contours import is_closed
from underlit.language import and_more, say
from underlit.model.drawing import TOOL_ROLES, Drawing
from underlit.records import record
from underlit.workflows.pieces import around_all, like_base, outermost, plain_outlines

from .arranging import PART, is_hidden, role_of
from .layers import find_layers, own_role
from .made import is_made
from .names import CONTAINERS, LABEL, PICTURES, ROLE, SHAPES, SVG, TEXTS, local_name
from .no_outline import FALSE
from .read_drawing import read_drawing

#: Elements that show something.
_DRAWN = SHAPES | TEXTS | PICTURES | {"use"}

#: More names than this are not listed.
MOST_NAMED = 3


@record
class Meaning:
    """Selected objects by what they are meant as; `told`: a sentence on what was left out."""

    panels: tuple[etree._Element, ...] = ()
    bases: tuple[etree._Element, ...] = ()
    told: tuple[str, ...] = ()


def meaning_of(root: etree._Element, selected: Sequence[etree._Element], word: str) -> Meaning:
    """What the selection means; `word`: panel | base | none | auto. Raises UnknownChoice."""
    if word == "panel":
        return Meaning(panels=tuple(selected))
    if word == "base":
        return Meaning(bases=tuple(selected))
    if word == "none":
        return Meaning()
    open_to = [element for element in selected if role_of(element) in (None, "die-cut")]
    if not open_to:
        return Meaning()
    before = read_drawing(root, "")
    drawing = _as_die_cut(root, open_to)
    closed = [element for element in open_to if _draws_outline(drawing, [element], "die-cut")]
    if not closed:
        raise UnknownChoice(_no_outline(drawing, open_to[0], "auto"))
    if not has_die_cut(before):
        return _first(drawing, closed)
    return _later(before, drawing, closed)


def _as_die_cut(root: etree._Element, elements: Iterable[etree._Element]) -> Drawing:
    """The drawing as if these were on Die cut; it is left as it is."""
    bare = [element for element in elements if role_of(element) is None]
    for element in bare:
        element.attrib[ROLE] = "die-cut"
    try:
        return read_drawing(root, "")
    finally:
        for element in bare:
            del element.attrib[ROLE]


def _first(drawing: Drawing, closed: Sequence[etree._Element]) -> Meaning:
    """Where nothing is on Die cut yet: the outer one of what is selected is the panel."""
    names = outermost(drawing, ids_of(closed))
    return Meaning(told=(_several(names),)) if len(names) > 1 else Meaning(panels=tuple(closed))


def _later(before: Drawing, drawing: Drawing, closed: Sequence[etree._Element]) -> Meaning:
    """Where there are outlines on Die cut already, which a stray selection must not change."""
    ids = ids_of(closed)
    plain = plain_outlines(before)
    pieces = {panel.object for panel in plain.panels}
    inner = just_inside(before, closed)
    if inner:
        return Meaning(bases=inner)
    asked_about = set(plain.frames if plain.frame_doubtful else ())
    asked_about |= pieces if len(pieces) > 1 else set()
    names = [
        name
        for name in outermost(drawing, ids)
        if name in asked_about or (name not in pieces and around_all(drawing, name, pieces))
    ]
    if len(names) > 1:
        return Meaning(told=(_several(names),))
    if names:
        return Meaning(panels=tuple(e for e in closed if names[0] in ids_of([e])))
    outside = [title(element) for element in closed if role_of(element) is None]
    if not outside:
        return Meaning()
    return Meaning(
        told=(
            say(
                "{names} is not on Die cut, so I left it out. If it is the panel's edge or the "
                "back sheet, choose that in the dialog and run this again.",
                names=in_short(outside),
            ),
        )
    )


def just_inside(drawing: Drawing, elements: Sequence[etree._Element]) -> tuple[etree._Element, ...]:
    """Those of these that run just inside a panel's edge, where no panel is among them."""
    plain = plain_outlines(drawing)
    if not ids_of(elements).isdisjoint({panel.object for panel in plain.panels}):
        return ()
    return tuple(element for element in elements if like_base(plain, ids_of([element])))


def _several(names: Sequence[str]) -> str:
    return say(
        "{number} separate outlines are selected ({names}), so I took none of them as the panel.",
        number=len(names),
        names=in_short(names),
    )


def check_outlines(
    root: etree._Element,
    elements: Sequence[etree._Element],
    role: str | None,
    *,
    base: bool = False,
) -> None:
    """Raise UnknownChoice where one of these draws no closed outline.

    `role`: the layer on which it must do so; None: wherever it stands. `base`: it is to be the
    back sheet, otherwise the panel.
    """
    drawing = read_drawing(root, "") if role else _as_die_cut(root, elements)
    for element in elements:
        if not _draws_outline(drawing, [element], role):
            raise UnknownChoice(_no_outline(drawing, element, "base" if base else "panel"))


def _draws_outline(drawing: Drawing, elements: Sequence[etree._Element], role: str | None) -> bool:
    ids = ids_of(elements)
    return any(
        shape.id in ids
        and role in (None, shape.role)
        and shape.part is None
        and any(len(c.points) > 2 and is_closed(c) for c in shape.contours)
        for shape in drawing.shapes
    )


def _no_outline(drawing: Drawing, element: etree._Element, what: str) -> str:
    """Why something is no closed outline, and what to do.

    `what` it was to be: panel | base | auto (the panel, or else nothing).
    """
    return say(FALSE[_what_else(drawing, element)][what], name=title(element))


def _what_else(drawing: Drawing, element: etree._Element) -> str:
    """What something is instead of a closed outline: a key of `FALSE`."""
    ids = ids_of([element])
    tags = {local_name(node.tag) for node in element.iter(SVG + "*")}
    if any(shape.id in ids and shape.part is None for shape in drawing.shapes):
        return "open"
    if any(is_hidden(node) for node in (element, *element.iterancestors())):
        return "hidden"
    if tags & TEXTS:
        return "text"
    if tags & PICTURES:
        return "picture"
    return "part" if PART in element.attrib else "nothing"


def instead_of_outlines(root: etree._Element) -> str:
    """What to do where a drawing shows things, but no outline on Die cut; "" where it is empty."""
    shown = [child for child in root.iter(SVG + "*") if not is_stored(child)]
    tags = {local_name(child.tag) for child in shown}
    hidden = next((el for el in shown if is_hidden(el) and _draws_something(el)), None)
    if hidden is not None:
        return say("{name} is hidden: show it first, then run this again.", name=title(hidden))
    if tags & PICTURES:
        return say("Trace the picture (Path > Trace Bitmap), then run this again.")
    if tags & TEXTS:
        return say("Turn the text into outlines (Path > Object to Path), then run this again.")
    return " ".join(drawn_on_openings(root))


def drawn_on_openings(root: etree._Element) -> tuple[str, ...]:
    """A sentence on outlines that the maker drew on the tool's layer of windows; () without."""
    own = [title(e) for layer in find_layers(root, "openings") for e in _own_shapes(layer)]
    if not own:
        return ()
    return (
        say(
            'I do not read what you drew on the layer "Openings" ({names}): it is for my tints. '
            "Move outlines of the panel or of windows to Die cut, then run this again.",
            names=in_short(own),
        ),
    )


def _own_shapes(holder: etree._Element) -> Iterator[etree._Element]:
    """Shapes that are neither the tool's nor on a layer inside this one, nor hidden."""
    for child in holder.iterchildren(SVG + "*"):
        if is_made(child) or is_hidden(child) or own_role(child) is not None:
            continue
        if local_name(child.tag) in {*SHAPES, "use"}:
            yield child
        else:
            yield from _own_shapes(child)


def is_stored(element: etree._Element) -> bool:
    """Whether it is a pattern for clones or clips, or belongs to the tool."""
    around = (element, *element.iterancestors())
    return any(
        local_name(node.tag) not in {*CONTAINERS, *_DRAWN} or own_role(node) in TOOL_ROLES
        for node in around
    )


def _draws_something(element: etree._Element) -> bool:
    return any(local_name(node.tag) in _DRAWN for node in element.iter(SVG + "*"))


def has_die_cut(drawing: Drawing) -> bool:
    """Whether anything is on Die cut."""
    return any(shape.role == "die-cut" for shape in drawing.shapes)


def ids_of(elements: Iterable[etree._Element]) -> frozenset[str]:
    """The ids of elements and of everything in them."""
    return frozenset(
        el.attrib["id"] for top in elements for el in top.iter(SVG + "*") if "id" in el.attrib
    )


def title(element: etree._Element, nameless: str = "") -> str:
    """What the maker knows an object by: a label that she gave, else its id, else `nameless`."""
    own = element.attrib.get(LABEL) or element.attrib.get("id")
    return own or nameless or say("an outline without a name")


def in_short(names: Sequence[str]) -> str:
    """a, b, c and 4 more."""
    return and_more(names, MOST_NAMED)
