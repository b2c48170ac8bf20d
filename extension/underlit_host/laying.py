"""Tape that the tool lays -> SVG, and lights that it turns about their lens."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence

from lxml import etree
from shapely.geometry import Polygon

from underlit.markup.part_shapes.others import PATCH
from underlit.markup.primitives import Group
from underlit.markup.signs import MINUS, PLUS
from underlit.workflows.laying import LaidPatch, LaidStrip

from .clones import clone_matrix
from .layers import (
    Ids,
    add_made,
    find_layers,
    matrix_of,
    mm_to_local,
    new_layer,
    tool_layer,
    usable_layers,
)
from .lengths import Unreadable
from .made import MADE, PIN, is_made, take_out
from .names import SHAPES, SVG, UNDERLIT
from .page import read_page
from .parts_markup import style_text
from .references import href
from .transforms import IDENTITY, Matrix, compose, inverse, is_flat, read_transform
from .write_drawing import append_sheet, matrix_text, number

_SHAPES = tuple(SVG + name for name in sorted(SHAPES))


def made_by(root: etree._Element, role: str, action: str) -> list[etree._Element]:
    """Objects on layers of a role that an action made, those that are pinned left out."""
    return [
        element
        for layer in find_layers(root, role)
        for element in layer.iter(SVG + "*")
        if element.attrib.get(MADE, "").startswith(action + ":")
        and is_made(element)
        and element.attrib.get(PIN) != "true"
    ]


def draw_strips(
    root: etree._Element,
    strips: Sequence[LaidStrip | LaidPatch],
    action: str,
    below: str | None = None,
) -> None:
    """Add strips on the Tape layer in laying order, as plain stroked paths, and paper patches.

    They lie on top of all tape, or under the patch whose id is `below`.
    """
    parent, place = _bed(root, below)
    ids = Ids(root)
    to_local = mm_to_local(root, parent)
    for k, one in enumerate(strips):
        element = add_made(parent, "path", action, f"underlit-tape-{one.name}", ids)
        element.attrib["transform"] = matrix_text(to_local)
        if isinstance(one, LaidStrip):
            _draw_strip(element, one)
        else:
            _draw_paper(element, one)
        element.tail = "\n  "
        if place is not None:
            etree._Element.insert(parent, place + k, element)


def _draw_strip(element: etree._Element, strip: LaidStrip) -> None:
    element.attrib["d"] = "M " + " L ".join(f"{number(x)},{number(y)}" for x, y in strip.points)
    colour = PLUS if strip.sign == "positive" else MINUS
    element.attrib["style"] = (
        f"fill:none;stroke:{colour};stroke-width:{number(strip.width)};"
        "stroke-linejoin:round;stroke-linecap:butt"
    )
    element.attrib[UNDERLIT + "polarity"] = strip.sign
    if strip.joint is not None:
        element.attrib[UNDERLIT + "joint"] = strip.joint


def _draw_paper(element: etree._Element, patch: LaidPatch) -> None:
    """A patch; its edge line is paint too and so lies inside."""
    edge = Polygon(patch.corners).buffer(-PATCH.width / 2.0, join_style="mitre").exterior
    points = list(edge.coords)[:-1]
    element.attrib["d"] = "M " + " L ".join(f"{number(x)},{number(y)}" for x, y in points) + " Z"
    element.attrib["style"] = style_text(PATCH)
    element.attrib[UNDERLIT + "part"] = "patch"


def _bed(root: etree._Element, below: str | None) -> tuple[etree._Element, int | None]:
    """The layer (or group) that takes new strips, and where in it (None: at its end)."""
    layers = find_layers(root, "tape")
    beds = [layer for layer in usable_layers(root, "tape") if not _only_patches(layer)]
    patch = _patch(layers, below)
    if patch is not None:
        above = next(layer for layer in layers if layer in patch.iterancestors())
        lower = [layer for layer in beds if layers.index(layer) < layers.index(above)]
        if above in beds or not lower:
            parent = patch.getparent()
            assert parent is not None
            return parent, parent.index(patch)
        return lower[-1], None
    return (beds[-1] if beds else new_layer(root, "tape")), None


def _patch(layers: Sequence[etree._Element], name: str | None) -> etree._Element | None:
    if name is None:
        return None
    objects = (element for layer in layers for element in layer.iter(SVG + "*"))
    return next((element for element in objects if element.attrib.get("id") == name), None)


def _only_patches(layer: etree._Element) -> bool:
    """Whether a layer holds paper that is meant to lie over all tape, and nothing else."""
    parts = {element.attrib.get(UNDERLIT + "part") for element in layer.iter(*_SHAPES)}
    return parts == {"patch"}


def draw_signs(root: etree._Element, groups: tuple[Group, ...], action: str) -> None:
    """Replace the signs of an action on the Marks layer; what other actions put there stays."""
    take_out(made_by(root, "marks", action))
    layers = usable_layers(root, "marks")
    layer = layers[0] if layers else tool_layer(root, "marks")
    append_sheet(root, layer, groups, action, "underlit-sign")


def turn_parts(
    root: etree._Element, turns: Mapping[str, tuple[tuple[float, float], float]]
) -> None:
    """Turn parts (by id) about a point of the page (mm) by an angle in degrees, clockwise.

    Clones of a turned part stay as they lie: what turns their original is undone in them.
    """
    wanted = {name: turn for name, turn in turns.items() if abs(turn[1]) > 1e-9}
    page = read_page(root)[1]
    for element in _turnable(root, wanted):
        centre, angle = wanted[element.attrib["id"]]
        before = read_transform(element.attrib.get("transform", ""))
        _turn(element, compose(page, matrix_of(_parent(element))), centre, angle)
        _hold_clones(root, element, before)


def _turnable(root: etree._Element, names: Collection[str]) -> list[etree._Element]:
    """Objects of these ids; of several that share one those that are parts and can be read."""
    alike: dict[str, list[etree._Element]] = {}
    for element in root.iter(SVG + "*"):
        name = element.attrib.get("id")
        if name in names and _stands(element):
            alike.setdefault(name, []).append(element)
    return [
        element
        for group in alike.values()
        for element in [e for e in group if UNDERLIT + "part" in e.attrib] or group
    ]


def _stands(element: etree._Element) -> bool:
    """Whether an object can be carried to the page and back."""
    try:
        return not is_flat(matrix_of(element))
    except Unreadable:
        return False


def _hold_clones(root: etree._Element, original: etree._Element, before: Matrix) -> None:
    """Keep the clones of an object as they lie although its own transform has changed."""
    undone = compose(before, inverse(read_transform(original.attrib["transform"])))
    for clone in root.iter(SVG + "use"):
        if href(clone) == original.attrib["id"]:
            place = clone_matrix(IDENTITY, clone.attrib, (0.0, 0.0))
            own = read_transform(clone.attrib.get("transform", ""))
            held = compose(own, compose(place, compose(undone, inverse(place))))
            clone.attrib["transform"] = matrix_text(held)


def _parent(element: etree._Element) -> etree._Element:
    parent = element.getparent()
    return parent if parent is not None else element


def _turn(
    element: etree._Element, to_page: Matrix, centre: tuple[float, float], angle: float
) -> None:
    """Put a rotation (page mm) before an element's own transform."""
    own = read_transform(element.attrib.get("transform", ""))
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    x, y = centre
    rotation = (c, s, -s, c, x - c * x + s * y, y - s * x - c * y)
    turned = compose(inverse(to_page), compose(rotation, compose(to_page, own)))
    element.attrib["transform"] = matrix_text(turned)
