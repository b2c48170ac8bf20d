"""Affine maps as six numbers (a, b, c, d, e, f): x' = a x + c y + e, y' = b x + d y + f.

Plain tuples: a drawing has thousands of them and each is used for a handful of numbers.
"""

from __future__ import annotations

import math
from functools import lru_cache

from underlit.language import say

from .lengths import Unreadable, read_numbers, shorten

Matrix = tuple[float, float, float, float, float, float]

IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def compose(outer: Matrix, inner: Matrix) -> Matrix:
    """The map that applies `inner` first, then `outer`."""
    a, b, c, d, e, f = outer
    g, h, i, j, k, l = inner
    return (
        a * g + c * h,
        b * g + d * h,
        a * i + c * j,
        b * i + d * j,
        a * k + c * l + e,
        b * k + d * l + f,
    )


def shift(matrix: Matrix, x: float, y: float) -> Matrix:
    """The map that moves by (x, y) first, then applies `matrix`."""
    a, b, c, d, e, f = matrix
    return (a, b, c, d, a * x + c * y + e, b * x + d * y + f)


def carry(matrix: Matrix, x: float, y: float) -> tuple[float, float]:
    """Where a point goes."""
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def inverse(matrix: Matrix) -> Matrix:
    """The map back. Raises Unreadable for a flat one."""
    if is_flat(matrix):
        raise Unreadable(say("it is squeezed flat"))
    a, b, c, d, e, f = matrix
    size = a * d - b * c
    back = (d / size, -b / size, -c / size, a / size, 0.0, 0.0)
    return shift(back, -e, -f)


def is_flat(matrix: Matrix) -> bool:
    """Whether the map squeezes areas to nothing (scale 0, say)."""
    a, b, c, d, _, _ = matrix
    size = a * a + b * b + c * c + d * d
    return not (abs(a * d - b * c) > 1e-9 * size and size > 1e-24)


@lru_cache(maxsize=4096)
def read_transform(text: str) -> Matrix:
    """The map of a `transform` attribute. Raises Unreadable."""
    *calls, rest = text.split(")")
    matrix = IDENTITY
    for call in calls:
        name, bracket, values = call.partition("(")
        one = _one(name.strip(" \t\r\n,"), read_numbers(values, "transform")) if bracket else None
        if one is None or not all(map(math.isfinite, one)):
            raise Unreadable(say("its {name} is {text}", name="transform", text=shorten(text)))
        matrix = compose(matrix, one)
    if rest.strip(" \t\r\n,") not in {"", "none"}:
        raise Unreadable(say("its {name} is {text}", name="transform", text=shorten(text)))
    return matrix


def _one(name: str, values: list[float]) -> Matrix | None:
    """One function of a transform list, None where its name or number of values is wrong."""
    match name, values:
        case "matrix", [a, b, c, d, e, f]:
            return (a, b, c, d, e, f)
        case "translate", [x]:
            return (1.0, 0.0, 0.0, 1.0, x, 0.0)
        case "translate", [x, y]:
            return (1.0, 0.0, 0.0, 1.0, x, y)
        case "scale", [x]:
            return (x, 0.0, 0.0, x, 0.0, 0.0)
        case "scale", [x, y]:
            return (x, 0.0, 0.0, y, 0.0, 0.0)
        case "rotate", [angle]:
            return _rotation(angle)
        case "rotate", [angle, x, y]:
            return compose((1.0, 0.0, 0.0, 1.0, x, y), shift(_rotation(angle), -x, -y))
        case "skewX", [angle]:
            return (1.0, 0.0, math.tan(math.radians(angle)), 1.0, 0.0, 0.0)
        case "skewY", [angle]:
            return (1.0, math.tan(math.radians(angle)), 0.0, 1.0, 0.0, 0.0)
    return None


#: Sine and cosine of quarter turns are exact, so that upright things stay upright.
_QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


def _rotation(angle: float) -> Matrix:
    if not math.isfinite(angle):
        return (math.nan,) * 6
    turn = math.radians(angle)
    cosine, sine = _QUARTERS.get(angle % 360.0) or (math.cos(turn), math.sin(turn))
    return (cosine, sine, -sine, cosine, 0.0, 0.0)
