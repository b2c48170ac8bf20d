"""Drawn parts -> SVG groups (patches: single shapes), placed in page mm.

All numbers inside a part are its own mm; one transform turns and moves it and
undoes whatever the layer around it does, so that a part is life size on every page.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from lxml import etree

from underlit.markup.part_shapes import Box, Disc, Line, Paint, PartDrawing, PartShape

from .layers import Ids, mm_to_local
from .made import MADE
from .names import LABEL, SVG, UNDERLIT
from .transforms import Matrix, compose, read_transform
from .write_drawing import matrix_text, number


def append_part(
    root: etree._Element,
    layer: etree._Element,
    part: PartDrawing,
    at: tuple[float, float],
    angle: float = 0.0,
    *,
    name: str,
    action: str | None = None,
    ids: Ids | None = None,
    more: Mapping[str, str] | None = None,
) -> etree._Element:
    """Put a part at the end of a layer, its origin at `at` (page mm); returns its object.

    `angle` is in degrees, clockwise on screen, of the way from minus to plus. `name` is the
    wanted id (with -2, -3, ... behind it where that is taken). With `action` it is marked
    as made by it. `more` are further underlit attributes by local name. Where many parts are
    placed, hand in one `ids`.
    """
    own = (ids or Ids(root)).free(name)
    placed = _placed(mm_to_local(root, layer), at, angle)
    if part.kind == "patch":  # tape and patches are objects of their own, not groups
        element = append_shape(layer, part.shapes[0])
        _describe(element, part, more)
    else:
        element = etree.SubElement(layer, SVG + "g")
        fill_part(element, part, more)
    element.attrib["id"] = own
    if action is not None:
        element.attrib[MADE] = f"{action}:{own}"
    element.attrib["transform"] = matrix_text(placed)
    element.tail = "\n  "
    return element


def append_made_shape(
    root: etree._Element,
    layer: etree._Element,
    shape: PartShape,
    *,
    name: str,
    title: str,
    action: str,
    more: Mapping[str, str],
) -> etree._Element:
    """Put a shape with all its points in page mm at the end of a layer; returns it.

    `name` is its id, free already; it is marked as made by the action. `more` as in `append_part`.
    """
    element = append_shape(layer, shape)
    element.attrib["id"] = name
    element.attrib[MADE] = f"{action}:{name}"
    element.attrib[LABEL] = title
    for key, value in more.items():
        element.attrib[UNDERLIT + key] = value
    element.attrib["transform"] = matrix_text(mm_to_local(root, layer))
    element.tail = "\n  "
    return element


def fill_part(
    group: etree._Element, part: PartDrawing, more: Mapping[str, str] | None = None
) -> None:
    """Put what makes a part onto and into a group, in mm of the part."""
    _describe(group, part, more)
    group.text = "\n    "
    for shape in part.shapes:
        append_shape(group, shape).tail = "\n    "
    if len(group):
        group[-1].tail = "\n  "


def _describe(element: etree._Element, part: PartDrawing, more: Mapping[str, str] | None) -> None:
    element.attrib[LABEL] = part.title
    element.attrib[UNDERLIT + "part"] = part.kind
    for key, value in {**part.attributes, **(more or {})}.items():
        element.attrib[UNDERLIT + key] = value


def append_shape(group: etree._Element, shape: PartShape) -> etree._Element:
    """Put one shape of a part at the end of its group."""
    tag, attributes = _outline(shape)
    feature = {} if shape.feature is None else {UNDERLIT + "feature": shape.feature}
    style = {"style": style_text(shape.paint, filled=not isinstance(shape.outline, Line))}
    return etree.SubElement(group, SVG + tag, {**attributes, **style, **feature})


def style_text(paint: Paint, filled: bool = True) -> str:
    """A style attribute; everything that could be inherited is said."""
    fill = paint.fill if filled else None
    words = [f"fill:{fill or 'none'}"]
    if fill is not None:
        words += [f"fill-opacity:{number(paint.opacity)}", "fill-rule:evenodd"]
    words.append(f"stroke:{paint.stroke or 'none'}")
    if paint.stroke is not None:
        dash = ",".join(map(number, paint.dash)) or "none"
        words += [
            f"stroke-width:{number(paint.width)}",
            f"stroke-dasharray:{dash}",
            "stroke-linecap:round",
            "stroke-linejoin:round",
            "stroke-opacity:1",
        ]
    return ";".join(words)


def _placed(to_local: Matrix, at: tuple[float, float], angle: float) -> Matrix:
    turned = read_transform(f"rotate({angle!r})")
    return compose(to_local, compose((1.0, 0.0, 0.0, 1.0, at[0], at[1]), turned))


def _outline(shape: PartShape) -> tuple[str, dict[str, str]]:
    """Tag and geometry of a shape."""
    outline = shape.outline
    if isinstance(outline, Box):
        sides = {"x": outline.left, "y": outline.top}
        sides |= {"width": outline.width, "height": outline.height}
        sides |= {"rx": outline.corner} if outline.corner else {}
        return "rect", {key: number(value) for key, value in sides.items()}
    if isinstance(outline, Disc):
        (x, y), r = outline.at, outline.radius
        return "circle", {"cx": number(x), "cy": number(y), "r": number(r)}
    if isinstance(outline, Line):
        return "path", {"d": _run(outline.points)}
    return "path", {"d": " ".join(f"{_run(ring)} Z" for ring in outline.rings)}


def _run(points: np.ndarray) -> str:
    return "M " + " L ".join(f"{number(x)},{number(y)}" for x, y in points.tolist())
