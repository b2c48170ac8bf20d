"""Fill rules: exact areas of nested, crossing and touching contours."""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from underlit.geometry.areas import filled_area
from underlit.geometry.filling import sound
from underlit.model.drawing import Contour
from unit.build import backwards, circle, contour, line, rectangle

OUTER = rectangle(0, 0, 10, 10)
INNER = rectangle(2, 2, 3, 3)


def pentagram() -> Contour:
    return contour([(5 + 5 * sin(4 * pi * k / 5), 5 - 5 * cos(4 * pi * k / 5)) for k in range(5)])


def independent_winding(points: np.ndarray, place: tuple[float, float]) -> int:
    """Times that a ring goes round a place, by adding up angles (shares no code)."""
    towards = points - np.array(place)
    angles = np.arctan2(towards[:, 1], towards[:, 0])
    turns = np.diff(np.append(angles, angles[0]))
    turns = (turns + pi) % (2 * pi) - pi
    return round(float(turns.sum()) / (2 * pi))


@pytest.mark.parametrize("rule", ["nonzero", "evenodd"])
def test_one_simple_outline_fills_its_inside(rule: str) -> None:
    assert filled_area([OUTER], rule).equals(shapely.box(0, 0, 10, 10))


def test_same_direction_inside_is_no_hole_under_nonzero() -> None:
    assert filled_area([OUTER, INNER], "nonzero").area == pytest.approx(100.0)
    assert filled_area([OUTER, backwards(INNER)], "nonzero").area == pytest.approx(91.0)


@pytest.mark.parametrize("inner", [INNER, backwards(INNER)])
def test_any_direction_inside_is_a_hole_under_evenodd(inner: Contour) -> None:
    assert filled_area([OUTER, inner], "evenodd").area == pytest.approx(91.0)


def test_pentagram_keeps_its_middle_only_under_nonzero() -> None:
    star = pentagram()
    whole, points = filled_area([star], "nonzero"), filled_area([star], "evenodd")
    assert whole.geom_type == "Polygon"
    assert points.geom_type == "MultiPolygon"
    assert len(points.geoms) == 5
    # middle pentagon: circumradius 5 / phi**2, area 5/2 r**2 sin 72
    radius = 5 / ((1 + 5**0.5) / 2) ** 2
    assert whole.area - points.area == pytest.approx(2.5 * radius**2 * sin(2 * pi / 5))


def test_figure_eight_fills_both_loops_under_both_rules() -> None:
    eight = contour([(0, 0), (4, 4), (4, 0), (0, 4)])
    assert filled_area([eight], "nonzero").area == pytest.approx(8.0)
    assert filled_area([eight], "evenodd").area == pytest.approx(8.0)


def test_overlapping_contours_are_one_or_cancel() -> None:
    pair = [OUTER, rectangle(5, 0, 10, 10)]
    assert filled_area(pair, "nonzero").area == pytest.approx(150.0)
    assert filled_area(pair, "evenodd").area == pytest.approx(100.0)


def test_contour_drawn_twice_cancels_under_evenodd_only() -> None:
    assert filled_area([OUTER, OUTER], "nonzero").area == pytest.approx(100.0)
    assert filled_area([OUTER, OUTER], "evenodd").is_empty


def test_open_contour_is_closed_for_filling() -> None:
    assert filled_area([line((0, 0), (4, 0), (4, 4))], "nonzero").area == pytest.approx(8.0)


@pytest.mark.parametrize("points", [[], [(1, 1)], [(1, 1), (2, 2)], [(0, 0), (1, 1), (2, 2)]])
def test_contours_without_area_fill_nothing(points: list[tuple[float, float]]) -> None:
    assert filled_area([contour(points)], "nonzero").is_empty


def test_keyhole_outline_is_a_ring() -> None:
    key = contour([(0, 0), (9, 0), (9, 9), (0, 9), (0, 3), (3, 3), (3, 6), (6, 6), (6, 3), (0, 3)])
    area = filled_area([key], "nonzero")
    assert area.is_valid
    assert area.area == pytest.approx(72.0)


def test_noise_is_dropped() -> None:
    dust = shapely.union_all([shapely.box(0, 0, 1, 1), shapely.box(5, 5, 5.0005, 5.0005)])
    assert sound(dust).equals(shapely.box(0, 0, 1, 1))
    pinhole = shapely.box(0, 0, 1, 1).difference(shapely.box(0.5, 0.5, 0.5005, 0.5005))
    assert len(sound(pinhole).interiors) == 0
    assert sound(shapely.LineString([(0, 0), (1, 1)])).is_empty


coordinate = st.integers(0, 24).map(lambda k: k / 2)
ring = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=9)


@given(rings=st.lists(ring, min_size=1, max_size=4), seed=st.integers(0, 999))
@settings(max_examples=80, deadline=None)
def test_filled_area_agrees_with_winding_numbers(
    rings: list[list[tuple[float, float]]], seed: int
) -> None:
    contours = [contour(points) for points in rings]
    places = np.random.default_rng(seed).uniform(-1, 13, (40, 2))
    lines = shapely.multilinestrings([shapely.linestrings([*r, r[0]]) for r in rings])
    places = places[shapely.distance(lines, shapely.points(places)) > 1e-3]
    turns = [sum(independent_winding(c.points, tuple(p)) for c in contours) for p in places]
    for rule, inside in (
        ("nonzero", [turn != 0 for turn in turns]),
        ("evenodd", [turn % 2 == 1 for turn in turns]),
    ):
        area = filled_area(contours, rule)
        assert area.is_valid
        assert area.geom_type in {"Polygon", "MultiPolygon"}
        assert list(shapely.contains(area, shapely.points(places))) == inside


def test_many_glyphs_fill_fast_and_right() -> None:
    contours = [
        c for k in range(150) for c in (circle(20 * k, 0, 8), backwards(circle(20 * k, 0, 4)))
    ]
    one = filled_area(contours[:2], "nonzero").area
    assert filled_area(contours, "nonzero").area == pytest.approx(150 * one)
