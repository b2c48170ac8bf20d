"""Basic shapes and paths as outlines in their own user units (SVG 1.1 chapter 9)."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise

from underlit.language import decimal, say

from .lengths import Unreadable, read_length, read_numbers
from .paths import ARC, Outline, Row, line, read_path

#: Width and height of the viewport that per cent refer to.
Viewport = tuple[float, float]


def read_outline(name: str, attributes: Mapping[str, str], viewport: Viewport) -> Outline:
    """What an element of SVG's shapes draws; empty where it has no size.

    Raises Unreadable with a short clause that says what is wrong.
    """
    if name == "path":
        return read_path(attributes.get("d", ""))
    if name in {"polyline", "polygon"}:
        return _points(attributes.get("points", ""), name == "polygon")
    width, height = viewport
    across, down, about = width, height, math.hypot(width, height) / math.sqrt(2.0)

    def value(key: str, whole: float) -> float:
        text = attributes.get(key)
        return 0.0 if text is None else read_length(text, whole, key)

    if name == "line":
        ends = value("x1", across), value("y1", down), value("x2", across), value("y2", down)
        return [([line(*ends)], False)] if ends[:2] != ends[2:] else []
    if name == "rect":
        size = _size(value("width", across), value("height", down))
        corner = _corner(attributes.get("rx"), attributes.get("ry"), size, viewport)
        return _rect(value("x", across), value("y", down), size, corner)
    centre = value("cx", across), value("cy", down)
    if name == "circle":
        return _ellipse(*centre, *_size(value("r", about), value("r", about)))
    radii = [attributes.get("rx", "auto"), attributes.get("ry", "auto")]
    given = [
        read_length(t, w, say("radius")) for t, w in zip(radii, viewport, strict=True) if _is(t)
    ]
    if not given:
        return []
    return _ellipse(*centre, *_size(given[0], given[-1]))


def _is(text: str | None) -> bool:
    """Whether a radius is given as a length."""
    return text is not None and text.strip() != "auto"


def _size(width: float, height: float) -> tuple[float, float]:
    if width < 0.0 or height < 0.0:
        raise Unreadable(
            say("its size is negative ({size})", size=decimal(f"{min(width, height):g}"))
        )
    return width, height


def _points(text: str, closed: bool) -> Outline:
    values = read_numbers(text, say("list of points"))
    if len(values) % 2:
        raise Unreadable(say("its list of points has an odd number of values"))
    points = list(zip(values[::2], values[1::2], strict=True))
    rows = [line(*p, *q) for p, q in pairwise(points) if p != q]
    if closed and rows and points[0] != points[-1]:
        rows.append(line(*points[-1], *points[0]))
    return [(rows, closed)] if rows else []


def _ellipse(x: float, y: float, rx: float, ry: float) -> Outline:
    if rx == 0.0 or ry == 0.0:
        return []
    return [([(ARC, x, y, rx, 0.0, 0.0, ry, 0.0, math.tau)], True)]


def _corner(
    rx: str | None, ry: str | None, size: tuple[float, float], viewport: Viewport
) -> tuple[float, float]:
    """Radii of a rectangle's corners: one given counts for both, at most half a side."""
    across = read_length(rx, viewport[0], "rx") if rx is not None and _is(rx) else None
    down = read_length(ry, viewport[1], "ry") if ry is not None and _is(ry) else None
    x = across if across is not None else down or 0.0
    y = down if down is not None else x
    if x <= 0.0 or y <= 0.0:
        return 0.0, 0.0
    return min(x, size[0] / 2.0), min(y, size[1] / 2.0)


def _rect(x: float, y: float, size: tuple[float, float], corner: tuple[float, float]) -> Outline:
    width, height = size
    if width == 0.0 or height == 0.0:
        return []
    right, low = x + width, y + height
    rx, ry = corner
    if rx == 0.0 or ry == 0.0:
        sides = [line(x, y, right, y), line(right, y, right, low)]
        return [([*sides, line(right, low, x, low), line(x, low, x, y)], True)]

    def bow(cx: float, cy: float, quarter: int) -> Row:
        start = quarter * math.pi / 2.0
        return (ARC, cx, cy, rx, 0.0, 0.0, ry, start, start + math.pi / 2.0)

    rows = [
        line(x + rx, y, right - rx, y),
        bow(right - rx, y + ry, 3),
        line(right, y + ry, right, low - ry),
        bow(right - rx, low - ry, 0),
        line(right - rx, low, x + rx, low),
        bow(x + rx, low - ry, 1),
        line(x, low - ry, x, y + ry),
        bow(x + rx, y + ry, 2),
    ]
    return [(rows, True)]
