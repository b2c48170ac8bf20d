"""What the Marks layer says of a battery: where to press, and which side lies up."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from ..language import say
from ..markup.marks import HALO
from ..markup.primitives import Circle, Group, Item, Point, Text
from ..markup.text import text_width
from ..model.card import Card
from ..placement.power_data import PowerPlace, Wish

#: Dark red, words with a light rim: legible where tape was laid under them later, too.
MARK = "#8c1d40"

#: Size of type, and from one baseline to the next (mm).
TYPE, LINE = 2.2, 2.8

#: Words keep this clear of what is drawn (mm), and are looked for so far off, in such steps.
CLEAR, FARTHEST, STEP = 0.8, 40.0, 0.5

#: Directions in which words are looked for, in the order of liking (degrees, 90 = down).
WAYS = (90.0, 270.0, 0.0, 180.0, 45.0, 135.0, 315.0, 225.0)

#: Tape will leave the feet outwards and go to the lights: words within this of such a way (degrees)
#: are liked less, as if they stood so much farther off (mm).
ASIDE, UNDER_TAPE = 40.0, 12.0


def marks_of(place: PowerPlace, wish: Wish, card: Card) -> tuple[Group, ...]:
    """The spot to press, and words beside it; `card` is the card with the battery on it."""
    words = [say("plus side up") if wish.up == "plus" else say("minus side up")]
    items: list[Item] = []
    if place.ring is not None:
        words.insert(0, say("press here"))
        items = [
            Circle(place.at, 1.6, MARK, None, 0.0),
            Circle(place.at, 3.4, None, MARK, 0.5),
            Circle(place.at, 5.2, None, MARK, 0.3),
        ]
    x, top = _free_spot(words, place.at, card)
    for i, line in enumerate(words):
        items.append(Text((x, top + TYPE + i * LINE), line, TYPE, False, "middle", MARK, HALO))
    title = say("Press here") if place.ring is not None else say("Battery")
    return (Group("mark", title, tuple(items)),)


def aside(words: Sequence[str], at: Point, card: Card) -> Point:
    """By how much (mm) lines of words that begin with a baseline's middle `at` step aside.

    By nothing where no tape or paper lies under them.
    """
    top, width = at[1] - TYPE, max(text_width(line, TYPE) for line in words)
    bottom = at[1] + LINE * (len(words) - 1)
    box = shapely.box(at[0] - width / 2.0, top, at[0] + width / 2.0, bottom)
    if not any(area.intersects(box) for area in card.tape):
        return (0.0, 0.0)
    x, y = _spot(words, (at[0], (top + bottom) / 2.0), card, np.zeros(len(WAYS)))
    return (x - at[0], y - top)


def _free_spot(words: Sequence[str], at: Point, card: Card) -> Point:
    """Middle of the upper edge of the words: near the battery, nothing drawn there or to come."""
    return _spot(words, at, card, np.where(_tape_to_come(at, card), UNDER_TAPE, 0.0))


def _spot(words: Sequence[str], at: Point, card: Card, disliked: NDArray[np.float64]) -> Point:
    """Middle of the upper edge of words with their middle near `at`, in the clear if they can be.

    `disliked` is how much farther off (mm) each way counts.
    """
    width = max(text_width(line, TYPE) for line in words) + 2.0 * CLEAR
    height = TYPE + LINE * (len(words) - 1) + 2.0 * CLEAR
    taken = _drawn(card)
    sheet = shapely.union_all([card.base, *(panel.outline for panel in card.panels)])
    shapely.prepare(taken)
    shapely.prepare(sheet)
    turns = np.radians(WAYS)
    far = np.arange(0.0, FARTHEST, STEP)
    x = at[0] + (far[:, None] * np.cos(turns)).ravel()
    y = at[1] + (far[:, None] * np.sin(turns)).ravel()
    boxes = shapely.box(x - width / 2.0, y - height / 2.0, x + width / 2.0, y + height / 2.0)
    free = ~shapely.intersects(taken, boxes) & shapely.covers(sheet, boxes)
    away = far[:, None] + disliked
    if free.any():
        k = int(np.argmin(np.where(free, away.ravel(), np.inf)))
    else:
        k = int(np.argmin(shapely.area(shapely.intersection(taken, boxes))))
    return (float(x[k]), float(y[k] - height / 2.0 + CLEAR))


def _tape_to_come(at: Point, card: Card) -> NDArray[np.bool_]:
    """Whether tape from the feet of the battery at a place to the lights will run each way."""
    here = [cell for cell in card.cells if cell.features["body"].covers(shapely.Point(at))]
    ends = [area for cell in here for name, area in cell.features.items() if name.endswith("-pad")]
    if card.lights:
        ends.append(shapely.union_all([light.features["lens"] for light in card.lights]))
    off = shapely.get_coordinates(shapely.centroid(ends)) - at
    between = np.degrees(np.arctan2(off[:, 1], off[:, 0]))[:, None] - np.array(WAYS)
    close: NDArray[np.bool_] = np.abs((between + 180.0) % 360.0 - 180.0).min(axis=0) <= ASIDE
    return close


def _drawn(card: Card) -> BaseGeometry:
    """All that words would be struck through by, or fall out with."""
    areas = [area for part in card.parts for area in part.features.values()]
    areas += [sheet.geometry for sheet in card.foam]
    areas += [opening.outline for opening in card.openings]
    areas += card.tape
    areas += [fold.line for fold in card.folds]
    return shapely.union_all(areas)
