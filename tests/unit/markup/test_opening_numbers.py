"""Numbers of windows: inside where there is room, never under a light, never on another window."""

from __future__ import annotations

import itertools

import pytest
import shapely

from placement.cards import openings
from underlit.markup.numbering import numbers


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


@pytest.mark.parametrize(
    "window",
    [shapely.box(0.0, 0.0, 20.0, 20.0), shapely.box(0.0, 0.0, 4.0, 9.0), shapely.box(0, 0, 2, 2)],
)
def test_no_tape_hides_it(window: shapely.Geometry) -> None:
    """Wherever it stood before: in the window, or beside one that is too small for it."""
    row = openings(window)
    (before,) = numbers(row)
    middle = box_of(before).centroid
    tape = [shapely.LineString([(middle.x - 40, middle.y), (middle.x + 40, middle.y)]).buffer(2.5)]
    (after,) = numbers(row, (), tape)
    assert not box_of(after).intersects(tape[0])
    assert box_of(after).distance(window) < 5.0
    aside = shapely.box(*shapely.buffer(window, 60.0).bounds).boundary
    assert numbers(row, (), [aside])[0].at == before.at


def test_numbers_that_tape_moves_keep_off_each_other() -> None:
    """Small windows in a row, with tape over all places right of them."""
    row = openings(*(shapely.box(7.0 * i, 0.0, 7.0 * i + 2.0, 2.0) for i in range(6)))
    tape = [shapely.box(-10.0, -1.0, 50.0, 3.0)]
    found = [box_of(label) for label in numbers(row, (), tape)]
    for box in found:
        assert not box.intersects(tape[0])
    assert not any(a.intersects(b) for a, b in itertools.combinations(found, 2))


def test_neighbours_numbers_are_not_read_as_one() -> None:
    """Two windows with tape round them but above and between: each number is nearest its own."""
    windows = [shapely.box(0.0, 0.0, 8.0, 12.0), shapely.box(15.0, 0.0, 23.0, 12.0)]
    lamps = [light(4.0, 6.0), light(19.0, 6.0)]
    ring = shapely.box(-30.0, -30.0, 53.0, 42.0).difference(shapely.box(-1.0, -6.0, 24.0, 13.0))
    for tape in ([], [ring]):
        found = [box_of(label) for label in numbers(openings(*windows), lamps, tape)]
        assert found[0].distance(found[1]) > 4.0
        for i, box in enumerate(found):
            assert box.distance(windows[i]) < box.distance(windows[1 - i])
