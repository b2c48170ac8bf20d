"""Words in pictures, so placed that none covers another or leaves its box."""

from __future__ import annotations

from math import pi

import numpy as np
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
            bold: bool = True, reach: float = 0.0, far: float = 40.0,
            around: float = 0.0) -> list[Item]:  # fmt: skip
        """The words nearest to a place; none where there is no room at all.

        `reach`: how far the thing itself reaches around the place (0: the words stand on it);
        `around`: half the room at least that the words take each way.
        """
        left, top, right, bottom = self._box
        if not (left <= at[0] <= right and top <= at[1] <= bottom):
            return []
        half = max(width(text, size, bold) / 2.0, around) + AIR
        up = down = max((ASCENT + DESCENT) / 2.0 * size, around) + AIR
        rise = (ASCENT - DESCENT) / 2.0 * size
        for places in _places(at, size, half - AIR, reach, far):
            boxes = np.column_stack([
                places[:, 0] - half, places[:, 1] - up, places[:, 0] + half, places[:, 1] + down
            ])  # fmt: skip
            free = np.flatnonzero(self._free(boxes))
            on_it = reach == 0.0 and places[0].tolist() == list(at)
            found = self._first(boxes, free, on_it)
            if found is not None:
                x, y = (float(v) for v in places[found])
                x0, y0, x1, y1 = (float(v) for v in boxes[found])
                self._taken.append((x0, y0, x1, y1))
                words = Words((x, y + rise), text, size, bold, "middle", colour)
                return [*_leader(at, (x, y), reach), words]
        return []

    def _free(self, boxes: np.ndarray) -> np.ndarray:
        """(n, 4) boxes -> (n,) whether they lie in the room and on no other words."""
        left, top, right, bottom = self._box
        free = (
            (boxes[:, 0] >= left) & (boxes[:, 1] >= top)
            & (boxes[:, 2] <= right) & (boxes[:, 3] <= bottom)
        )  # fmt: skip
        if self._taken and free.any():
            taken = np.array(self._taken)
            hit = (
                (boxes[:, None, 0] < taken[:, 2]) & (taken[:, 0] < boxes[:, None, 2])
                & (boxes[:, None, 1] < taken[:, 3]) & (taken[:, 1] < boxes[:, None, 3])
            )  # fmt: skip
            free &= ~hit.any(axis=1)
        return np.asarray(free)

    def _first(self, boxes: np.ndarray, free: np.ndarray, on_it: bool) -> int | None:
        """The first free box that covers nothing to keep off; the thing itself may be covered."""
        if not len(free):
            return None
        if self._keep_off is None or (on_it and free[0] == 0):
            return int(free[0])
        hit = shapely.intersects(self._keep_off, shapely.box(*boxes[free].T))
        clear = free[~hit]
        return int(clear[0]) if len(clear) else None


def _places(at: Point, size: float, half: float, reach: float, far: float) -> list[np.ndarray]:
    """(n, 2) places to try in their order: near ones first, the rest only if need be."""
    angles = 2.0 * pi * np.arange(DIRECTIONS) / DIRECTIONS - pi / 2.0
    away = np.arange(0.0, far, STEP) + (reach + size * 0.6 if reach else 0.0)
    stretch = 1.0 + half / np.maximum(away, size)[:, None] * np.abs(np.cos(angles))
    x = at[0] + away[:, None] * stretch * np.cos(angles)
    y = at[1] + away[:, None] * np.sin(angles)
    every = np.stack([x, y], axis=2).reshape(-1, 2)
    if not reach:
        every = np.concatenate([np.array([at]), every[DIRECTIONS:]])
    return [every[: 4 * DIRECTIONS], every[4 * DIRECTIONS :]]


def _leader(at: Point, to: Point, reach: float) -> list[Item]:
    dx, dy = to[0] - at[0], to[1] - at[1]
    far = (dx * dx + dy * dy) ** 0.5
    if far <= reach + LEADER:
        return []
    start = (at[0] + dx / far * reach, at[1] + dy / far * reach)
    end = (at[0] + dx * (1.0 - 2.2 / far), at[1] + dy * (1.0 - 2.2 / far))
    return [Line((start, end), 0.15, look.GREY)]
