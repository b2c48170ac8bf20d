"""Words in pictures, so placed that none covers another or leaves its box."""

from __future__ import annotations

from math import cos, pi, sin

import shapely
from shapely.geometry.base import BaseGeometry

from . import look
from .content import Box, Item, Line, Point, Words
from .fonts import ASCENT, DESCENT, width

#: Words keep this much room around them (mm).
AIR = 0.4

#: Looked for on rings this far apart, in so many directions (mm).
STEP, DIRECTIONS = 1.2, 16

#: A word further from its thing than this gets a line to it (mm).
LEADER = 5.0


def text_box(words: Words) -> Box:
    """The room that a line of text takes, by the fonts' own ascent and descent."""
    long = width(words.text, words.size, words.bold)
    left = words.at[0] - {"start": 0.0, "middle": long / 2.0, "end": long}[words.anchor]
    top = words.at[1] - ASCENT * words.size
    return (left, top, left + long, words.at[1] + DESCENT * words.size)


class Labels:
    """Places words near points, in the order in which they are asked for."""

    def __init__(self, box: Box, keep_off: BaseGeometry | None = None) -> None:
        self._box = box
        self._taken: list[Box] = []
        self._keep_off = keep_off
        if keep_off is not None:
            shapely.prepare(keep_off)

    def take(self, box: Box) -> None:
        """Keep words off a box."""
        self._taken.append(box)

    def put(self, text: str, at: Point, size: float, colour: str = look.INK, *,
            bold: bool = True, reach: float = 0.0, far: float = 40.0) -> list[Item]:  # fmt: skip
        """The words nearest to a place; none where there is no room at all.

        `reach`: how far the thing itself reaches around the place (0: the words stand on it).
        """
        half = width(text, size, bold) / 2.0
        rise = (ASCENT - DESCENT) / 2.0 * size
        for ring in range(int(far / STEP)):
            away = ring * STEP + (reach + size * 0.6 if reach else 0.0)
            for k in range(DIRECTIONS if away else 1):
                angle = 2.0 * pi * k / DIRECTIONS - pi / 2.0
                stretch = 1.0 + (half / max(away, size) if away else 0.0) * abs(cos(angle))
                x, y = at[0] + away * stretch * cos(angle), at[1] + away * sin(angle)
                words = Words((x, y + rise), text, size, bold, "middle", colour)
                box = text_box(words)
                if self._free(box, bool(away)):
                    self._taken.append(box)
                    return [*_leader(at, (x, y), reach), words]
        return []

    def _free(self, box: Box, off: bool) -> bool:
        left, top, right, bottom = (
            box[0] - AIR, box[1] - AIR, box[2] + AIR, box[3] + AIR,
        )  # fmt: skip
        inside = (
            left >= self._box[0] and top >= self._box[1]
            and right <= self._box[2] and bottom <= self._box[3]
        )  # fmt: skip
        if not inside:
            return False
        if any(left < b[2] and b[0] < right and top < b[3] and b[1] < bottom for b in self._taken):
            return False
        if off and self._keep_off is not None:
            return not bool(self._keep_off.intersects(shapely.box(left, top, right, bottom)))
        return True


def _leader(at: Point, to: Point, reach: float) -> list[Item]:
    dx, dy = to[0] - at[0], to[1] - at[1]
    far = (dx * dx + dy * dy) ** 0.5
    if far <= reach + LEADER:
        return []
    start = (at[0] + dx / far * reach, at[1] + dy / far * reach)
    end = (at[0] + dx * (1.0 - 2.2 / far), at[1] + dy * (1.0 - 2.2 / far))
    return [Line((start, end), 0.15, look.GREY)]
