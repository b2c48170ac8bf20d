"""What shapes paint: fill and stroke together, clips, many at once."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
import shapely

from underlit.geometry.areas import painted_area, painted_areas
from underlit.model.drawing import Shape
from unit.build import circle, line, pen, rectangle, shape, window


def test_fill_and_stroke_are_one_area() -> None:
    both = shape("tape", rectangle(0, 0, 10, 10), stroke=2.0, filled=True)
    assert painted_area(both).equals(shapely.box(-1, -1, 11, 11))


def test_fill_only_and_stroke_only() -> None:
    assert painted_area(shape("tape", rectangle(0, 0, 10, 10))).area == pytest.approx(100.0)
    stroked = shape("tape", rectangle(0, 0, 10, 10), stroke=2.0, filled=False)
    assert painted_area(stroked).area == pytest.approx(80.0)


def test_neither_filled_nor_stroked_paints_nothing() -> None:
    assert painted_area(shape("tape", rectangle(0, 0, 9, 9), filled=False)).is_empty


def test_filled_open_line_with_stroke_covers_both() -> None:
    bent = shape("tape", line((0, 0), (10, 0), (10, 10)), stroke=2.0, filled=True)
    # the triangle, and of the two bars what lies outside it
    area = painted_area(bent)
    assert shapely.contains(area, shapely.Point(4.5, 4.4))
    assert not shapely.intersects(area, shapely.Point(4.0, 4.9))


def test_clip_cuts_plain_and_other_shapes_alike() -> None:
    clip = window(0, -5, 4, 5)
    plain = shape("tape", line((0, 0), (10, 0)), stroke=2.0, clip=clip)
    dotted = shape("tape", [line((0, 0), (10, 0)), line((0, 3), (10, 3))], stroke=2.0, clip=clip)
    assert painted_area(plain).area == pytest.approx(8.0)
    assert painted_area(dotted).area == pytest.approx(16.0)
    gone = shape("tape", line((0, 0), (10, 0)), stroke=2.0, clip=window(20, 20, 30, 30))
    assert painted_area(gone).is_empty


def mixed() -> list[Shape]:
    """Shapes of every kind, so that no two neighbours go the same way."""
    sharp = line((0, 0), (10, 0), (0, 1))
    return [
        shape("tape", line((0, 0), (10, 0)), stroke=2.0),
        shape("tape", line((0, 0), (10, 0), (10, 10)), stroke=pen(3, "round", "round")),
        shape("tape", sharp, stroke=2.0),
        shape("tape", circle(5, 5, 3)),
        shape("tape", line((0, 0), (0, 0), (10, 0)), stroke=2.0),
        shape("tape", line((3, 3), (3, 3)), stroke=pen(2, "round")),
        shape("tape", line((0, 0), (10, 0)), stroke=pen(2, "square", linear=((2, 0), (0, 1)))),
        shape("tape", line((0, 0), (10, 10), (20, 0)), stroke=pen(4, "square", "bevel")),
        shape("tape", [], stroke=2.0),
    ]


def test_many_at_once_are_as_one_by_one() -> None:
    shapes = mixed()
    for together, one in zip(painted_areas(shapes), shapes, strict=True):
        assert together.equals(painted_area(one))
        assert together.is_valid
    areas = [round(area.area, 1) for area in painted_areas(shapes)]
    assert areas[0] == 20.0
    assert areas[3] == round(painted_area(shapes[3]).area, 1) == pytest.approx(9 * pi, abs=0.1)
    assert areas[4] == 20.0
    assert areas[5] == 3.1
    assert areas[6] == 28.0
    assert areas[8] == 0.0


def test_three_thousand_strips() -> None:
    places = np.random.default_rng(1).uniform(0, 500, (3000, 2))
    strips = [
        shape("tape", line((x, y), (x + 30, y), (x + 30, y + 20)), stroke=5.0) for x, y in places
    ]
    areas = painted_areas(strips)
    assert len(areas) == 3000
    assert areas[17].area == pytest.approx(250.0)
