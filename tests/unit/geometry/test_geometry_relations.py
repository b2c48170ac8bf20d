"""Relations between outlines, places inside areas, reading order, self-crossings."""

from __future__ import annotations

from math import pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from underlit.geometry.crossing import self_crossing
from underlit.geometry.places import inner_places, reading_order, well_inside
from underlit.geometry.relations import Relations, near_pairs, relate
from unit.build import circle, contour, rectangle


def related(*areas: shapely.Geometry) -> Relations:
    return relate(np.array(areas, dtype=object))


BIG = shapely.box(0, 0, 100, 100)


def test_apart_and_inside() -> None:
    found = related(BIG, shapely.box(10, 10, 20, 20), shapely.box(12, 12, 14, 14))
    assert found.contains.tolist() == [[0, 1], [0, 2], [1, 2]]
    assert not found.crosses
    assert not found.beside
    assert related(BIG, shapely.box(200, 0, 210, 10)).contains.tolist() == []


@pytest.mark.parametrize(("poke", "crosses"), [(0.005, False), (0.009, False), (0.05, True)])
def test_crossing_starts_above_the_tolerance(poke: float, crosses: bool) -> None:
    found = related(BIG, shapely.box(90, 40, 100 + poke, 50))
    assert bool(found.crosses) == crosses
    assert (found.rims == {(0, 1)}) == (not crosses)


@pytest.mark.parametrize(("gap", "beside"), [(0.0, True), (0.009, True), (0.02, False)])
def test_neighbours_share_an_edge_within_the_tolerance(gap: float, beside: bool) -> None:
    found = related(shapely.box(0, 0, 10, 10), shapely.box(10 + gap, 0, 20, 10))
    assert bool(found.beside) == beside
    assert not found.crosses


def test_touching_at_a_point_is_no_shared_edge() -> None:
    found = related(shapely.box(0, 0, 10, 10), shapely.box(10, 10, 20, 20))
    assert not found.beside
    assert not found.crosses


@pytest.mark.parametrize(("length", "rim"), [(0.9, False), (1.1, True)])
def test_shared_edge_must_be_longer_than_a_touch(length: float, rim: bool) -> None:
    found = related(BIG, shapely.box(100 - 5, 40, 100, 40 + length))
    assert found.contains.tolist() == [[0, 1]]
    assert (len(found.rims) == 1) == rim


def test_large_outline_with_many_notches_is_judged_near_them_only() -> None:
    large = shapely.Point(0, 0).buffer(400, quad_segs=2500)
    notches = [
        shapely.Point(400 * np.cos(a), 400 * np.sin(a)).buffer(2) for a in np.arange(0, 6, 0.05)
    ]
    found = related(large, *notches)
    assert found.crosses[0] == set(range(1, len(notches) + 1))
    assert not len(found.contains)


box = st.tuples(st.integers(0, 20), st.integers(0, 20), st.integers(1, 15), st.integers(1, 15)).map(
    lambda b: shapely.box(b[0], b[1], b[0] + b[2], b[1] + b[3])
)


@given(st.lists(box, min_size=2, max_size=8, unique_by=lambda b: b.wkt))
@settings(max_examples=80, deadline=None)
def test_relations_agree_with_areas(boxes: list[shapely.Geometry]) -> None:
    found = related(*boxes)
    contains = {tuple(pair) for pair in found.contains.tolist()}
    for i, a in enumerate(boxes):
        for j, b in enumerate(boxes):
            if i == j:
                continue
            common = a.intersection(b).area
            assert ((i, j) in contains) == (common == b.area)
            assert (j in found.crosses.get(i, ())) == (0 < common < min(a.area, b.area))


def test_near_pairs_are_found_once() -> None:
    areas = np.array([BIG, shapely.box(0, 0, 10, 10), shapely.box(50, 50, 60, 60)], dtype=object)
    assert near_pairs(areas).tolist() == [[0, 1]]


def test_place_is_the_centre_where_that_lies_inside() -> None:
    assert inner_places([shapely.box(0, 0, 10, 4)]) == [pytest.approx((5, 2))]
    assert inner_places([]) == []


def test_place_of_a_bow_lies_well_inside() -> None:
    bow = shapely.Point(0, 0).buffer(10).difference(shapely.Point(0, 3).buffer(9))
    assert not bow.contains(bow.centroid)
    place = shapely.Point(inner_places([bow])[0])
    assert bow.exterior.distance(place) > 1.9  # widest at the bottom: 10 - 6 = 4 across


def test_place_avoids_what_is_not_free() -> None:
    hole = shapely.Point(0, 0).buffer(10)
    free = hole.difference(shapely.Point(0, 0).buffer(6))
    (x, y) = inner_places([hole], [free])[0]
    assert np.hypot(x, y) == pytest.approx(8, abs=0.1)
    assert inner_places([hole], [shapely.MultiPolygon()]) == [pytest.approx((0, 0), abs=1e-9)]


def test_well_inside_takes_the_largest_part() -> None:
    parts = shapely.MultiPolygon([shapely.box(0, 0, 1, 1), shapely.box(10, 0, 20, 10)])
    assert well_inside(parts) == pytest.approx((15, 5), abs=0.1)


@pytest.mark.parametrize(("step", "order"), [(0.04, [1, 0]), (0.05, [1, 0]), (0.06, [0, 1])])
def test_a_row_is_five_hundredths_high(step: float, order: list[int]) -> None:
    assert reading_order([(9.0, 10.0), (1.0, 10.0 + step)]) == order


def test_reading_order_goes_down_then_right() -> None:
    assert reading_order([(5, 9), (9, 1), (1, 1), (3, 5)]) == [2, 1, 3, 0]


def loop_outline(size: float) -> np.ndarray:
    """A square whose line overshoots at the end and makes a small square loop inside.

    The loop lies inside the outline, so its area is gone round twice.
    """
    return np.array(
        [(0, size), (0, 10), (10, 10), (10, 0), (0, 0), (0, size), (size, size), (size, 0), (0, 0)],
        dtype=float,
    )


@pytest.mark.parametrize(("size", "found"), [(0.09, False), (0.1, False), (0.11, True)])
def test_self_crossing_needs_more_than_a_hundredth(size: float, found: bool) -> None:
    result = self_crossing(loop_outline(size)[::-1], "nonzero")
    assert (result is not None) == found
    if result is not None:
        assert result[1] == pytest.approx(size * size)


def test_self_crossing_lies_on_the_crossing() -> None:
    curl = np.array([(0, 0), (10, 0), (10, 8), (3, 8), (3, 4), (6, 4), (6, 10), (0, 10)])
    # the line from (6, 4) up to (6, 10) crosses the edge at y = 8 and goes twice round 3 x 4 mm
    assert self_crossing(curl, "nonzero") == (pytest.approx((6, 8)), pytest.approx(12))
    star = contour([(5 * sin(4 * pi * k / 5), -5 * np.cos(4 * pi * k / 5)) for k in range(5)])
    found = self_crossing(star.points, "nonzero")
    assert found is not None
    radius = 5 / ((1 + 5**0.5) / 2) ** 2
    assert np.hypot(*found[0]) == pytest.approx(radius)
    assert self_crossing(star.points, "evenodd") is None


@pytest.mark.parametrize("outline", [rectangle(0, 0, 5, 5), circle(0, 0, 5)])
def test_simple_outlines_do_not_cross_themselves(outline: object) -> None:
    assert self_crossing(outline.points, "nonzero") is None  # type: ignore[attr-defined]


def test_figure_eight_is_no_fault() -> None:
    assert self_crossing(np.array([(0, 0), (4, 4), (4, 0), (0, 4)], float), "nonzero") is None
