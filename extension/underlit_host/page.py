"""The page: one map from the root's user units to millimetres of the first page.

Sources: SVG 1.1 7.7 to 7.9 (viewBox, preserveAspectRatio). A missing width or height counts as
100 %, and per cent of the page as per cent of the viewBox in CSS px: so does the editor
(measured on Inkscape 1.2.2).
"""

from __future__ import annotations

import math

from lxml import etree

from underlit.errors import UnreadableDrawing
from underlit.language import decimal, say
from underlit.model.drawing import Page
from underlit.units import MM_PER_PX

from .lengths import Unreadable, read_length, read_numbers
from .names import INKSCAPE, SODIPODI
from .transforms import Matrix, carry, compose

Box = tuple[float, float, float, float]

#: No sheet of paper is larger (mm).
LARGEST_PAGE = 20_000.0

#: No card fits on less (mm); a millionth of it would leave no digits to compute with.
SMALLEST_PAGE = 0.1

#: What one user unit of the drawing may be, mm; files in use lie between 0.0001 and 25.4.
SMALLEST_UNIT, LARGEST_UNIT = 1e-6, 1e4

#: Uneven scale up to this share is rounding of the page's size.
UNEVEN = 1e-4

_ALIGN = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}


def read_page(root: etree._Element) -> tuple[Page, Matrix, tuple[float, float]]:
    """The first page, the map from root user units to its mm, the root's viewport (user units).

    Raises UnreadableDrawing for a page of no size, of unreadable size or unevenly scaled.
    """
    try:
        box = read_view_box(root.get("viewBox"))
        width = _side(root.get("width"), box[2] if box else None, "width")
        height = _side(root.get("height"), box[3] if box else None, "height")
        view = box or (0.0, 0.0, width, height)
        first = _first_page(root)
    except Unreadable as fault:
        raise UnreadableDrawing(
            say(
                "The size of this drawing's page cannot be read: {fault}. Set it in Document "
                "Properties, in millimetres.",
                fault=fault,
            )
        ) from None
    _check_size(width * MM_PER_PX, height * MM_PER_PX)
    inner = fit(view, root.get("preserveAspectRatio"), width, height)
    _check_even(inner)
    _check_scale(inner[0] * MM_PER_PX)
    matrix = compose((MM_PER_PX, 0.0, 0.0, MM_PER_PX, 0.0, 0.0), inner)
    size = (width * MM_PER_PX, height * MM_PER_PX)
    if first is not None:
        x, y = carry(matrix, first[0], first[1])
        matrix = (*matrix[:4], matrix[4] - x, matrix[5] - y)
        size = (first[2] * matrix[0], first[3] * matrix[3])
    return Page(size[0], size[1], matrix[0]), matrix, (view[2], view[3])


def _side(text: str | None, view: float | None, name: str) -> float:
    """Width or height of the root in CSS px."""
    if text is None or not text.strip() or text.strip() == "auto":
        text = "100%"
    if view is None and text.strip().endswith("%"):
        raise Unreadable(say("no width is given") if name == "width" else say("no height is given"))
    return read_length(text, view or 0.0, name)


def _check_size(width: float, height: float) -> None:
    if not (width >= SMALLEST_PAGE and height >= SMALLEST_PAGE):
        raise UnreadableDrawing(
            say(
                "The page of this drawing has no size: its width or height is under {least} mm. "
                "Set it in Document Properties, in millimetres.",
                least=decimal(f"{SMALLEST_PAGE:g}"),
            )
        )
    if width > LARGEST_PAGE or height > LARGEST_PAGE:
        raise UnreadableDrawing(
            say(
                "The page of this drawing is {long} m long; the most is {most} m. Set it in "
                "Document Properties, in millimetres.",
                long=decimal(f"{max(width, height) / 1000.0:.3g}"),
                most=round(LARGEST_PAGE / 1000.0),
            )
        )


def _check_even(inner: Matrix) -> None:
    if abs(inner[0] - inner[3]) > UNEVEN * inner[3]:
        raise UnreadableDrawing(
            say(
                "This drawing is stretched: one unit is {wide} mm wide and {high} mm high "
                "(preserveAspectRatio is none). Set one scale for both in Document Properties.",
                wide=decimal(f"{inner[0] * MM_PER_PX:.4g}"),
                high=decimal(f"{inner[3] * MM_PER_PX:.4g}"),
            )
        )


def _check_scale(scale: float) -> None:
    if not SMALLEST_UNIT <= scale <= LARGEST_UNIT:
        raise UnreadableDrawing(
            say(
                "One unit of this drawing is {size} mm: no card is drawn so. Set its viewBox and "
                "scale in Document Properties.",
                size=decimal(f"{scale:.3g}"),
            )
        )


def _first_page(root: etree._Element) -> Box | None:
    """x, y, width and height of the first page in root user units, None without pages."""
    page = next(root.iterfind(f"{SODIPODI}namedview/{INKSCAPE}page"), None)
    if page is None:
        return None
    x, y, width, height = (
        read_length(page.get(name, "0"), 0.0, say("first page's {name}", name=name))
        for name in ("x", "y", "width", "height")
    )
    return (x, y, width, height) if width > 0.0 and height > 0.0 else None


def read_view_box(text: str | None) -> Box | None:
    """min-x, min-y, width and height of a viewBox, None without one. Raises Unreadable."""
    if text is None or not text.strip():
        return None
    values = read_numbers(text, "viewBox")
    if len(values) != 4 or not all(map(math.isfinite, values)):
        raise Unreadable(say("its {name} is {text}", name="viewBox", text=text.strip()))
    if values[2] <= 0.0 or values[3] <= 0.0:
        raise Unreadable(say("its viewBox has no size: {text}", text=text.strip()))
    return values[0], values[1], values[2], values[3]


def fit(view: Box, how: str | None, width: float, height: float) -> Matrix:
    """The map of a viewBox into a viewport of width x height at (0, 0)."""
    words = [word for word in (how or "").split() if word != "defer"]
    align = words[0] if words else "xMidYMid"
    x, y = width / view[2], height / view[3]
    if align == "none":
        return (x, 0.0, 0.0, y, -view[0] * x, -view[1] * y)
    scale = max(x, y) if "slice" in words[1:] else min(x, y)
    left = (width - view[2] * scale) * _ALIGN.get(align[1:4], 0.5)
    top = (height - view[3] * scale) * _ALIGN.get(align[5:8], 0.5)
    return (scale, 0.0, 0.0, scale, left - view[0] * scale, top - view[1] * scale)
