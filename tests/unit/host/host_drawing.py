"""Small drawings for the tests of reading, and what was read of them."""

from __future__ import annotations

import shapely
from lxml import etree
from shapely.geometry.base import BaseGeometry

from underlit.geometry.areas import filled_area
from underlit.model.drawing import Drawing, Remark, Shape
from underlit_host.read_drawing import read_drawing

SPACES = (
    'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
    'xmlns:sodipodi="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd" '
    'xmlns:underlit="urn:underlit:card:1"'
)

PAGE = 'width="200mm" height="100mm" viewBox="0 0 200 100"'


def svg(content: str, page: str = PAGE) -> str:
    """A whole drawing; one unit is one mm unless `page` says otherwise."""
    return f"<svg {SPACES} {page}>{content}</svg>"


def layer(content: str, label: str = "Die cut", more: str = "") -> str:
    """A layer of the editor."""
    return f'<g inkscape:groupmode="layer" inkscape:label="{label}" {more}>{content}</g>'


def read(content: str, page: str = PAGE) -> Drawing:
    """Read a drawing with this content."""
    return read_drawing(etree.fromstring(svg(content, page).encode()), "card.svg")


def read_cut(content: str, page: str = PAGE) -> Drawing:
    """Read a drawing with this content on the Die cut layer."""
    return read(layer(content), page)


def read_tape(content: str, page: str = PAGE) -> Drawing:
    """Read a drawing with this content on the Tape layer."""
    return read(layer(content, "Tape"), page)


def only(drawing: Drawing) -> Shape:
    """The one shape of a drawing, read without any remark."""
    assert not drawing.remarks, drawing.remarks
    assert len(drawing.shapes) == 1, drawing.shapes
    return drawing.shapes[0]


def remark(drawing: Drawing) -> Remark:
    """The one remark of a drawing without shapes."""
    assert not drawing.shapes, drawing.shapes
    assert len(drawing.remarks) == 1, drawing.remarks
    return drawing.remarks[0]


def box(shape: Shape) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of a shape's outline (mm)."""
    low = [c.points.min(axis=0) for c in shape.contours]
    high = [c.points.max(axis=0) for c in shape.contours]
    return (
        float(min(p[0] for p in low)),
        float(min(p[1] for p in low)),
        float(max(p[0] for p in high)),
        float(max(p[1] for p in high)),
    )


def area(shape: Shape) -> BaseGeometry:
    """What a shape fills, clipped."""
    filled = filled_area(shape.contours, shape.fill_rule)
    return filled if shape.clip is None else shapely.intersection(filled, shape.clip)
