"""How a finding looks: its shape, colours and word, its numbered mark, the point at its place.

Severities differ in shape and in lightness, so they stay apart in grey print and for every
colour vision: a dark diamond, a light circle with a dark rim, a small middle grey square. None
of the colours is that of a tape. A white halo keeps them legible on anything.
"""

from __future__ import annotations

from math import hypot

from ..language import later
from ..records import record
from .primitives import Circle, Item, Path, Point, Text

HALO = "#ffffff"

#: Width of the white rim around marks, points and leader lines (mm).
RIM = 0.6

#: From the centre of a mark to the start of its leader line, inside every shape (mm).
INNER = 2.3

#: The point at the place itself: radius; width of the leader line (mm).
DOT = 0.5
LINE = 0.35

#: Height of the figures; room for them across any shape; height of a capital per size.
FIGURES = 3.0
FIGURES_ROOM = 4.9
FIGURE_WIDTH = 0.7
CAPITAL = 0.73


@record
class Look:
    """Word, shape and colours of a severity; `word` is to be said, `dark` is for point and line."""

    word: str
    shape: str
    half: float
    fill: str
    outline: str
    dark: str
    figure: str


LOOKS = {
    "stop": Look(
        later("Faults to mend"), "diamond", 3.6, "#7a0a14", "#7a0a14", "#7a0a14", "#ffffff"
    ),
    "caution": Look(later("Cautions"), "circle", 3.1, "#ffd23f", "#3d3000", "#3d3000", "#2a2100"),
    "note": Look(later("Notes"), "square", 2.5, "#66707c", "#3f4750", "#3f4750", "#ffffff"),
}

#: Width of the outline of a shape, inside its half width (mm).
OUTLINE = 0.4


def mark_items(severity: str, number: int, centre: Point) -> tuple[Item, ...]:
    """A numbered mark with its halo."""
    look = LOOKS[severity]
    size = min(FIGURES, FIGURES_ROOM / (FIGURE_WIDTH * len(str(number))))
    baseline = (centre[0], centre[1] + CAPITAL * size / 2.0)
    return (
        *_shape(look, centre),
        Text(baseline, str(number), size, True, "middle", look.figure),
    )


def place_items(severity: str, place: Point, centre: Point) -> tuple[Item, ...]:
    """The point at a place and the leader line from its mark, which ends exactly there."""
    look = LOOKS[severity]
    away = hypot(centre[0] - place[0], centre[1] - place[1])
    share = INNER / away
    start = (
        centre[0] + (place[0] - centre[0]) * share,
        centre[1] + (place[1] - centre[1]) * share,
    )
    way = (start, place)
    return (
        Path(way, False, None, HALO, LINE + RIM),
        Circle(place, DOT, None, HALO, RIM),
        Path(way, False, None, look.dark, LINE),
        Circle(place, DOT, look.dark, None, 0.0),
    )


def _shape(look: Look, centre: Point) -> tuple[Item, ...]:
    x, y = centre
    inner = look.half - OUTLINE / 2.0
    if look.shape == "circle":
        return (
            Circle(centre, look.half, HALO, HALO, 2.0 * RIM),
            Circle(centre, inner, look.fill, look.outline, OUTLINE),
        )
    return (
        Path(_corners(look, x, y, look.half), True, HALO, HALO, 2.0 * RIM),
        Path(_corners(look, x, y, inner), True, look.fill, look.outline, OUTLINE),
    )


def _corners(look: Look, x: float, y: float, half: float) -> tuple[Point, ...]:
    if look.shape == "diamond":
        return ((x, y - half), (x + half, y), (x, y + half), (x - half, y))
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))
