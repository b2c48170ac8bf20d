"""Where the content of nested `svg` elements, symbols and clones lies."""

from __future__ import annotations

from collections.abc import Mapping

from .lengths import read_length
from .page import fit, read_view_box
from .transforms import Matrix, compose, read_transform, shift

Viewport = tuple[float, float]

#: Width and height that a clone gives its symbol (None: the symbol's own).
Frame = tuple[str | None, str | None]


def own_matrix(outer: Matrix, attributes: Mapping[str, str]) -> Matrix:
    """The map of an element's user space. Raises Unreadable."""
    text = attributes.get("transform")
    return compose(outer, read_transform(text)) if text else outer


def clone_matrix(matrix: Matrix, attributes: Mapping[str, str], viewport: Viewport) -> Matrix:
    """The map of what a clone draws: its x and y come last. Raises Unreadable."""
    x = _length(attributes.get("x"), "0", viewport[0], "x")
    y = _length(attributes.get("y"), "0", viewport[1], "y")
    return shift(matrix, x, y) if x or y else matrix


def open_viewport(
    matrix: Matrix, attributes: Mapping[str, str], viewport: Viewport, frame: Frame | None
) -> tuple[Matrix, Viewport]:
    """The map and viewport inside a nested `svg` or a symbol. Raises Unreadable.

    Width and height are those of the clone, else the element's own, else the whole viewport;
    what reaches beyond is not cut off (measured on the editor).
    """
    across, down = frame or (None, None)
    width = _length(across or attributes.get("width"), "100%", viewport[0], "width")
    height = _length(down or attributes.get("height"), "100%", viewport[1], "height")
    matrix = clone_matrix(matrix, attributes, viewport)
    view = read_view_box(attributes.get("viewBox"))
    if view is None:
        return matrix, (width, height)
    inner = fit(view, attributes.get("preserveAspectRatio"), width, height)
    return compose(matrix, inner), (view[2], view[3])


def _length(text: str | None, default: str, whole: float, name: str) -> float:
    if text is None or text.strip() in {"", "auto"}:
        text = default
    return read_length(text, whole, name)
