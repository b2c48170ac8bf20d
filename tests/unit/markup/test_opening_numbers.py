"""Numbers of windows: inside where there is room, never under a light, never on another window."""

from __future__ import annotations

import itertools

import pytest
import shapely

from placement.cards import openings
from underlit.markup.openings import numbers


def box_of(label) -> shapely.Geometry:
    """About what a number covers: digits 0.6 as wide and 0.72 as high as the type."""
    x, y = label.at
    width = 0.6 * label.size * len(label.text)
    left = x if label.anchor == "start" else x - width / 2.0
    return shapely.box(left, y - 0.72 * label.size, left + width, y)


def light(x: float, y: float) -> shapely.Geometry:
    return shapely.box(x - 2.5, y - 6.0, x + 2.5, y + 6.0)


@pytest.mark.parametrize("side", [9.0, 14.0, 20.0, 40.0])
def test_no_light_hides_it(side: float) -> None:
    window = shapely.box(0.0, 0.0, side, side)
    lamp = light(side / 2.0, side / 2.0)
    (label,) = numbers(openings(window), [lamp])
    assert not box_of(label).intersects(lamp)
    assert label.size >= 2.2
    assert box_of(label).within(window) == (side > 10.0)


def test_beside_it_keeps_off_neighbours() -> None:
    """Five narrow windows side by side, each under its light: their numbers stand above them."""
    row = openings(*(shapely.box(9.0 * i, 0.0, 9.0 * i + 8.0, 12.0) for i in range(5)))
    lamps = [light(9.0 * i + 4.0, 6.0) for i in range(5)]
    found = [box_of(label) for label in numbers(row, lamps)]
    for box, opening in itertools.product(found, row):
        assert not box.intersects(opening.outline)
    for box, lamp in itertools.product(found, lamps):
        assert not box.intersects(lamp)
    assert not any(a.intersects(b) for a, b in itertools.combinations(found, 2))
