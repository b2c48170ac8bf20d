"""Plus and minus that everyone can tell apart: signs, numbers and edges of strips (Marks layer).

Plus tape is dark, minus tape light with a dark edge (contrast 4.9:1); signs are repeated along a
strip and at both of its ends, so that no meaning hangs on a hue. All in page mm.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_along
from ..language import say
from ..model.card import Strip
from ..records import record
from .primitives import Group, Item, Path, Point, Text

#: Colours of tape drawn by the tool, and of signs on it.
PLUS, MINUS = "#003f66", "#e69f00"
ON_PLUS, ON_MINUS = "#ffffff", "#3a2800"

#: Signs stand this far from the ends of a strip and at most this far from each other (mm).
FROM_END = 3.0
APART = 25.0

#: Places that are tried for a strip's number (mm from each other), and most signs of a strip.
TRIED, MOST = 1.0, 400

#: Half the length of a sign's stroke as a share of the tape's width, at most so much (mm).
ARM_SHARE, LONGEST_ARM = 0.22, 1.1
SIGN_WIDTH = 0.35
EDGE_WIDTH = 0.3

#: Size of a strip's number as a share of the tape's width, at most so much (mm).
NUMBER_SHARE, LARGEST_NUMBER = 0.6, 3.0
HALF_CAPITAL = 0.36

#: A sign this near to a part's body would be half hidden (mm).
HIDDEN = 1.2

#: A number keeps this far from signs (mm).
CLEAR = 3.0


@record
class Signed:
    """One strip with its sign (positive | negative) and its number in laying order (P1, M2)."""

    strip: Strip
    sign: str
    name: str


def sign_groups(strips: Sequence[Signed], hidden: BaseGeometry) -> tuple[Group, ...]:
    """One group per strip; `hidden` are the bodies of parts, under which no sign is seen."""
    return tuple(_group(signed, hidden) for signed in strips)


def _group(signed: Signed, hidden: BaseGeometry) -> Group:
    strip, plus = signed.strip, signed.sign == "positive"
    colour = ON_PLUS if plus else ON_MINUS
    arm = min(ARM_SHARE * strip.width, LONGEST_ARM)
    places, number = _places(strip, hidden)
    items: list[Item] = [] if plus else _edges(strip.geometry)
    for place in places:
        items += _sign(place, arm, plus, colour)
    size = min(NUMBER_SHARE * strip.width, LARGEST_NUMBER)
    if number is not None:
        base = (number[0], number[1] + HALF_CAPITAL * size)
        items.append(Text(base, signed.name, size, True, "middle", colour))
    title = (
        say("Plus strip {name}", name=signed.name)
        if plus
        else say("Minus strip {name}", name=signed.name)
    )
    return Group(f"signs-{signed.name}", title, tuple(items))


def _places(strip: Strip, hidden: BaseGeometry) -> tuple[list[Point], Point | None]:
    """Where the signs stand, and where the number (None where there is no room)."""
    if strip.line is None:
        return [strip.middle], None
    line = strip.line
    step = _spread(line.length)
    signs = _visible(line, step, hidden)
    free = np.arange(CLEAR, line.length - CLEAR, step_along(TRIED, line.length))
    apart = np.abs(free[:, None] - step[None, :]).min(axis=1) >= CLEAR
    numbers = _visible(line, free[apart], hidden)
    middle = shapely.get_coordinates(line.interpolate(0.5, normalized=True))[0]
    if not numbers:
        return signs or [_point(middle)], None
    nearest = min(numbers, key=lambda p: (round(float(np.hypot(*(middle - p))), 3), p))
    return signs, nearest


def _spread(length: float) -> np.ndarray:
    """Distances along a strip: near both ends, and evenly between."""
    inner = length - 2.0 * FROM_END
    if inner <= FROM_END:
        return np.array([length / 2.0])
    apart = step_along(APART, length, MOST)
    return np.linspace(FROM_END, length - FROM_END, int(np.ceil(inner / apart)) + 1)


def _visible(line: LineString, distances: np.ndarray, hidden: BaseGeometry) -> list[Point]:
    points = shapely.line_interpolate_point(line, distances)
    seen = ~(shapely.distance(points, hidden) < HIDDEN)  # no distance to nothing: seen
    return [_point(xy) for xy in shapely.get_coordinates(points[seen])]


def _point(xy: np.ndarray) -> Point:
    return (float(xy[0]), float(xy[1]))


def _sign(at: Point, arm: float, plus: bool, colour: str) -> list[Item]:
    """A plus or a minus as strokes, upright on the page."""
    x, y = at
    level: Item = Path(((x - arm, y), (x + arm, y)), False, None, colour, SIGN_WIDTH)
    upright: Item = Path(((x, y - arm), (x, y + arm)), False, None, colour, SIGN_WIDTH)
    return [level, upright] if plus else [level]


def _edges(area: BaseGeometry) -> list[Item]:
    """The dark edge of light tape."""
    return [
        Path(
            tuple(_point(xy) for xy in shapely.get_coordinates(ring)[:-1]),
            True,
            None,
            ON_MINUS,
            EDGE_WIDTH,
        )
        for part in shapely.get_parts(area)
        if part.geom_type == "Polygon"
        for ring in (part.exterior, *part.interiors)
    ]
