"""The share of pixels: against areas and against points, over shapes of every kind."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import MultiPolygon, Point, Polygon, box

from underlit.glow.coverage import LINES, Grid, coverage

GRID = Grid(left=-2.0, top=1.0, across=0.1, down=0.125, width=160, height=120)


def area_of(shares: np.ndarray, grid: Grid = GRID) -> float:
    return float(shares.sum()) * grid.across * grid.down


STAR = Polygon(
    [
        (5 + (5, 2)[i % 2] * np.cos(i * np.pi / 6), 8 + (5, 2)[i % 2] * np.sin(i * np.pi / 6))
        for i in range(12)
    ]
)
SHAPES = {
    "disc": Point(5, 8).buffer(4.3, quad_segs=64),
    "ring": Point(5, 8).buffer(5).difference(Point(5.5, 8).buffer(2)),
    "star": STAR,
    "two": MultiPolygon([box(0, 2, 3, 5), Point(9, 10).buffer(2)]),
    "clockwise": Polygon([(0, 2), (0, 9), (9, 9)][::-1]),
    "reverse": Polygon([(0, 2), (0, 9), (9, 9)]),
}


@pytest.mark.parametrize("name", SHAPES)
def test_shares_add_up_to_the_area(name: str) -> None:
    shape = SHAPES[name]
    assert area_of(coverage(shape, GRID)) == pytest.approx(shape.area, rel=2e-4)


@pytest.mark.parametrize("name", SHAPES)
def test_pixels_wholly_inside_and_outside(name: str) -> None:
    shape, shares = SHAPES[name], coverage(SHAPES[name], GRID)
    xs, ys = GRID.centres()
    x, y = np.meshgrid(xs, ys)
    away = shapely.distance(shape.boundary, shapely.points(x, y)) > 0.2
    inside = shapely.contains_xy(shape, x, y)
    np.testing.assert_allclose(shares[away & inside], 1.0, atol=1e-9)
    np.testing.assert_allclose(shares[away & ~inside], 0.0, atol=1e-9)
    mixed = (shares > 0.01) & (shares < 0.99)
    assert mixed.any()
    assert not (mixed & away).any()


def test_each_pixel_of_a_slanted_edge_is_as_covered_as_its_area() -> None:
    """Four lines to a row: exact along the row, within 1 / 8 of a pixel where an edge lies flat."""
    shape, shares = SHAPES["star"], coverage(SHAPES["star"], GRID)
    rows, columns = np.nonzero((shares > 0.0) & (shares < 1.0))
    x, y = GRID.left + columns * GRID.across, GRID.top + rows * GRID.down
    cells = shapely.box(x, y, x + GRID.across, y + GRID.down)
    true = shapely.area(shapely.intersection(cells, shape)) / (GRID.across * GRID.down)
    assert np.abs(true - shares[rows, columns]).max() <= 1.0 / (2 * LINES) + 1e-6
    assert np.abs(true - shares[rows, columns]).mean() < 0.02


def test_a_box_on_pixel_edges_is_exact() -> None:
    shares = coverage(box(-1.0, 2.0, 1.0, 3.0), GRID)
    assert set(np.unique(np.round(shares, 9)).tolist()) == {0.0, 1.0}
    assert area_of(shares) == pytest.approx(2.0)
    half = coverage(box(-0.95, 2.0, 1.0, 3.0), GRID)
    assert half[10, 10] == pytest.approx(0.5)


def test_what_reaches_beyond_the_grid_is_cut_off() -> None:
    whole = box(GRID.left, GRID.top, GRID.left + 16, GRID.top + 15)
    assert (coverage(whole.buffer(50), GRID) == 1.0).all()
    assert (coverage(box(100, 100, 110, 110), GRID) == 0.0).all()
    assert area_of(coverage(box(-10, 5, 0, 8), GRID)) == pytest.approx(6.0)
    assert (coverage(MultiPolygon(), GRID) == 0.0).all()


def test_a_part_of_a_grid_shows_the_same() -> None:
    shape = SHAPES["ring"]
    rows, columns = GRID.over(shape)
    part = coverage(shape, GRID.part(rows, columns))
    np.testing.assert_allclose(part, coverage(shape, GRID)[rows, columns], atol=1e-9)
    assert part.sum() == pytest.approx(coverage(shape, GRID).sum())


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.floats(-3, 15), st.floats(0, 18)), min_size=3, max_size=9))
def test_any_polygon(points: list[tuple[float, float]]) -> None:
    shape = shapely.make_valid(Polygon(points), method="structure")
    seen = shapely.intersection(shape, box(-2, 1, 14, 16)).area
    shares = coverage(shape, GRID)
    assert shares.min() >= 0.0
    assert shares.max() <= 1.0
    length = shapely.length(shape)
    assert abs(area_of(shares) - seen) <= 0.125 / LINES * length + 1e-6
