"""Numbers of windows: where each stands, so that neither lights nor tape hide it. Page mm."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import product

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from ..model.card import Opening
from ..records import record
from .labels import HAIR, LETTER, fitting, words_box
from .marks import HALO
from .primitives import Box, Point, Text

#: Dark letters with a light rim: they show on black, on white, on any colour and on the tint.
INK = "#16303a"

#: Numbers are at most LARGEST, and SHARE of the widest place; smaller than SMALLEST they would
#: not be legible and stand BESIDE the shape (mm), ROUND from what hides them. Longer ones are
#: smaller.
SMALLEST, LARGEST = 2.2, 6.0
SHARE = 0.6
BESIDE = 0.6
ROUND = 0.3
WIDTHS = (1.0, 1.0, 0.9, 0.65, 0.5, 0.4, 0.35)

#: Numbers keep out of the middle of windows wide enough for that: a light will cover it. How far
#: the rounded corners of the shipped sticker's body reach, and the sizes that are tried (mm).
LIGHT_REACH = 6.2
CLEAR_SIZES = (LARGEST, 4.5, 3.5, 2.8, SMALLEST)

#: From the baseline to the middle of a digit, as a share of the size of the type.
HALF_DIGIT = 0.36

#: Beside a window a place is looked for at so many distances (STEP mm further each) and at so
#: many places along every side.
STEP, FAR, ALONG = 1.5, 6, 7

#: Numbers nearer to each other than this would be read as one (mm).
APART = 4.5


def clear_area(opening: Opening) -> BaseGeometry:
    """What stays open of an opening; all of it where nothing does."""
    return opening.clear if not opening.clear.is_empty else opening.outline


def numbers(
    openings: Sequence[Opening],
    lights: Sequence[BaseGeometry] = (),
    tape: Sequence[BaseGeometry] = (),
) -> list[Text]:
    """The number of each opening: where it is widest, or beside it; not under `lights` or `tape`.

    Tape moves only those numbers that it would hide.
    """
    areas = [clear_area(opening) for opening in openings]
    bodies, hiding = shapely.STRtree(list(lights)), shapely.STRtree([*lights, *tape])
    windows, drawn = shapely.STRtree(areas), shapely.STRtree([*lights, *tape, *areas])
    found: list[Text] = []
    hidden: list[int] = []
    boxes: dict[int, Box] = {}
    surroundings = _Surroundings(drawn, windows, boxes.values())
    for i, (opening, area) in enumerate(zip(openings, areas, strict=True)):
        over, text = _over(bodies, area), str(opening.number)
        label = _past(area, over, over, text, surroundings) if over else _label(area, text)
        boxes[i] = _box_of(label)
        if len(tape) and len(hiding.query(shapely.box(*boxes[i]), predicate="intersects")):
            hidden.append(i)
        found.append(label)
    for i in hidden:
        del boxes[i]
    for i in hidden:
        area, text = areas[i], str(openings[i].number)
        found[i] = _past(area, _over(bodies, area), _over(hiding, area), text, surroundings)
        boxes[i] = _box_of(found[i])
    return found


@record
class _Surroundings:
    """What a number that stands beside its window must keep off, or could be mistaken for."""

    drawn: shapely.STRtree
    windows: shapely.STRtree
    numbers: Collection[Box]

    def best(self, boxes: NDArray[np.object_], own: BaseGeometry) -> int:
        """The first of the places that are free and nowhere near another window or number.

        Where there is none the first that is free, where nothing is free the first.
        """
        numbers = shapely.STRtree([shapely.box(*box) for box in self.numbers])
        blocked, mistaken = np.zeros(len(boxes), bool), np.zeros(len(boxes), bool)
        for tree in (self.drawn, numbers):
            blocked[tree.query(boxes, predicate="intersects")[0]] = True
        mistaken[numbers.query(boxes, predicate="dwithin", distance=APART)[0]] = True
        _, nearest = self.windows.query_nearest(boxes, return_distance=True, all_matches=False)
        mistaken |= shapely.distance(boxes, own) > nearest + HAIR
        for wanted in (~blocked & ~mistaken, ~blocked):
            if wanted.any():
                return int(np.argmax(wanted))
        return 0


def _over(tree: shapely.STRtree, area: BaseGeometry) -> list[BaseGeometry]:
    return list(tree.geometries[sorted(tree.query(area, predicate="intersects"))])


def _box_of(label: Text) -> Box:
    """What a number covers."""
    x, y = label.at
    half = LETTER * label.size * len(label.text) / 2.0 if label.anchor == "start" else 0.0
    return words_box(label.text, (x + half, y - HALF_DIGIT * label.size), label.size)


def _label(area: BaseGeometry, text: str) -> Text:
    """The number where the area is widest, or beside an area that is too small for it."""
    circle = shapely.maximum_inscribed_circle(max(shapely.get_parts(area), key=shapely.area))
    (x, y), radius = shapely.get_coordinates(circle)[0], circle.length
    if radius > LIGHT_REACH:
        clear = area.difference(shapely.Point(x, y).buffer(LIGHT_REACH))
        fit = fitting(text, clear, CLEAR_SIZES, area.bounds[:2])
        if fit is not None:
            return number_at(fit[0], text, fit[1])
    size = min(LARGEST, SHARE * 2.0 * radius * WIDTHS[len(text)])
    if size >= SMALLEST:
        return number_at((float(x), float(y)), text, size)
    at = (area.bounds[2] + BESIDE, float(y) + HALF_DIGIT * SMALLEST)
    return Text(at, text, SMALLEST, True, "start", INK, HALO)


def _past(
    area: BaseGeometry,
    lights: Sequence[BaseGeometry],
    over: Sequence[BaseGeometry],
    text: str,
    surroundings: _Surroundings,
) -> Text:
    """The number where what is `over` an area leaves room for it, or at a free place beside it.

    Beside it is beside its `lights` too; where nothing is free it stands right of them.
    """
    free = area.difference(shapely.union_all(shapely.buffer(over, ROUND))) if over else area
    fit = fitting(text, free, CLEAR_SIZES, area.bounds[:2])
    if fit is not None:
        return number_at(fit[0], text, fit[1])
    middle = (area.centroid.x, area.centroid.y)
    spots = [*_sides(shapely.total_bounds([area, *lights]).tolist(), middle, text)]
    boxes = shapely.box(*np.array([words_box(text, spot, SMALLEST) for spot in spots]).T)
    best = surroundings.best(boxes, shapely.union_all([area, *lights]))
    return number_at(spots[best], text, SMALLEST)


def _sides(bounds: Sequence[float], middle: Point, text: str) -> Iterator[Point]:
    """Places beside a box: opposite its middle first, then along its sides, then further off."""
    left, top, right, bottom = bounds
    x0, y0, x1, y1 = words_box(text, (0.0, 0.0), SMALLEST)
    for step in range(FAR):
        off = BESIDE + STEP * step
        west, north, east, south = (
            left - off - x1,
            top - off - y1,
            right + off - x0,
            bottom + off - y0,
        )
        yield from ((east, middle[1]), (west, middle[1]), (middle[0], north), (middle[0], south))
        xs, ys = np.linspace(west, east, ALONG).tolist(), np.linspace(north, south, ALONG).tolist()
        yield from product((east, west), ys)
        yield from product(xs, (north, south))


def number_at(at: Point, text: str, size: float) -> Text:
    """A number, or other words, with its middle at a place."""
    return Text((at[0], at[1] + HALF_DIGIT * size), text, size, True, "middle", INK, HALO)
