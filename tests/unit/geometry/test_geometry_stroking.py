"""Strokes: caps, joins, miter limit, uneven transforms; round shapes against distances."""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin, tan

import numpy as np
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st

from underlit.geometry.areas import stroked_area
from underlit.geometry.stroking import steps_for
from underlit.model.drawing import Stroke
from unit.build import backwards, contour, line, pen, rectangle

LEVEL = line((0, 0), (10, 0))


@pytest.mark.parametrize(("cap", "area"), [("butt", 20.0), ("square", 24.0), ("round", 20.0 + pi)])
def test_caps(cap: str, area: float) -> None:
    # a polygon in a circle of radius 1 lacks at most 2 pi * 2/3 * 0.005 mm2
    assert stroked_area([LEVEL], pen(2, cap)).area == pytest.approx(area, abs=0.022)


@pytest.mark.parametrize(
    ("join", "corner"), [("miter", 1.0), ("bevel", 0.5), ("round", pi / 4), ("arcs", 1.0)]
)
def test_joins_at_a_right_angle(join: str, corner: float) -> None:
    bend = line((0, 0), (10, 0), (10, 10))
    # two bars of 2 x 10 share the inner quarter; the join fills (part of) the outer one
    area = stroked_area([bend], pen(2, join=join)).area
    assert area == pytest.approx(39.0 + corner, abs=0.01)


def corner_of(angle_deg: float) -> list[tuple[float, float]]:
    """Legs of 30 mm that meet at the origin under an angle."""
    half = radians(angle_deg) / 2
    return [(30 * cos(half), 30 * sin(half)), (0, 0), (30 * cos(half), -30 * sin(half))]


@pytest.mark.parametrize(
    ("angle", "mitred"), [(29.5, True), (28.9, False), (60.0, True), (10.0, False)]
)
def test_miter_limit_bevels_altogether(angle: float, mitred: bool) -> None:
    # limit 4: the ratio is 1 / sin(angle / 2), so the limit lies at 28.955 degrees
    area = stroked_area([line(*corner_of(angle))], pen(2, miter_limit=4))
    half = radians(angle) / 2
    tip = 1 / sin(half) if mitred else sin(half)
    assert -area.bounds[0] == pytest.approx(tip, abs=1e-6)


def test_one_sharp_and_one_blunt_corner_in_one_line() -> None:
    area = stroked_area([line((0, 0), (20, 0), (0, 2), (0, 20))], pen(2, miter_limit=4))
    assert area.bounds[2] < 20.5  # the sharp one is bevelled
    assert shapely.contains(area, shapely.Point(-0.9, 1.2))  # the blunt one keeps its miter
    assert area.geom_type == "Polygon"


@given(angle=st.floats(30, 175), limit=st.floats(4, 20))
@settings(max_examples=40, deadline=None)
def test_miter_tips_agree_with_bars_and_kites(angle: float, limit: float) -> None:
    bent = corner_of(angle)
    area = stroked_area([line(*bent)], pen(2, miter_limit=limit))
    overlap = 1 / tan(radians(angle) / 2)  # inner kite counted twice, outer kite added
    assert area.area == pytest.approx(120.0 - overlap + overlap, abs=1e-6)


def test_closed_contour_has_joins_all_round_and_no_caps() -> None:
    frame = rectangle(0, 0, 10, 10)
    assert stroked_area([frame], pen(2, "square")).equals(
        shapely.box(-1, -1, 11, 11).difference(shapely.box(1, 1, 9, 9))
    )
    assert stroked_area([backwards(frame)], pen(2)).area == pytest.approx(80.0)
    assert stroked_area([frame], pen(2, join="bevel")).area == pytest.approx(78.0)
    assert stroked_area([rectangle(0, 0, 10, 10, closed=False)], pen(2)).area < 80.0


def test_wide_stroke_fills_a_closed_contour() -> None:
    assert stroked_area([rectangle(0, 0, 4, 4)], pen(5)).area == pytest.approx(81.0)


def test_closed_sharp_triangle_bevels_its_tip_only() -> None:
    area = stroked_area([contour([(0, 0), (20, 1), (0, 2)])], pen(1, miter_limit=4))
    assert area.bounds[2] < 20.2
    assert area.bounds[0] == pytest.approx(-0.5)
    assert area.is_valid


@pytest.mark.parametrize("points", [[(3, 4)], [(3, 4), (3, 4)]])
@pytest.mark.parametrize("closed", [True, False])
@pytest.mark.parametrize(("cap", "area"), [("butt", 0.0), ("square", 4.0), ("round", pi)])
def test_contours_without_length_are_dots(
    points: list[tuple[float, float]], closed: bool, cap: str, area: float
) -> None:
    dot = stroked_area([contour(points, closed)], pen(2, cap))
    assert dot.area == pytest.approx(area, abs=0.022)
    if area:
        assert (dot.centroid.x, dot.centroid.y) == pytest.approx((3, 4))


def test_there_and_back_is_one_bar() -> None:
    for closed in (True, False):
        area = stroked_area([contour([(0, 0), (10, 0), (0, 0)], closed)], pen(2))
        assert area.area == pytest.approx(20.0)


def test_crossing_strokes_are_one_area() -> None:
    area = stroked_area([LEVEL, line((5, -5), (5, 5))], pen(2))
    assert area.geom_type == "Polygon"
    assert area.area == pytest.approx(36.0)


def test_uneven_transform_thins_one_way() -> None:
    squeezed = pen(2, "square", linear=((2, 0), (0, 0.5)))
    assert stroked_area([LEVEL], squeezed).bounds == pytest.approx((-2, -0.5, 12, 0.5))
    dot = stroked_area([line((0, 0), (0, 0))], pen(2, "round", linear=((2, 0), (0, 0.5))))
    assert dot.bounds == pytest.approx((-2, -0.5, 2, 0.5))
    assert dot.area == pytest.approx(pi, rel=0.01)


def test_skewed_stroke_is_the_skewed_area() -> None:
    skew = np.array([[1.0, 0.7], [0.0, 1.3]])
    local = line((0, 0), (10, 2), (4, 9))
    drawn = contour(local.points @ skew.T, closed=False)
    area = stroked_area([drawn], pen(2, linear=skew.tolist()))
    straight = stroked_area([local], pen(2))
    assert area.area == pytest.approx(straight.area * abs(np.linalg.det(skew)))
    back = shapely.transform(area, lambda p: p @ np.linalg.inv(skew).T)
    assert back.symmetric_difference(straight).area < 1e-6


def test_rotation_and_mirror_need_no_detour() -> None:
    c, s = cos(0.4), sin(0.4)
    turned = pen(2, linear=((3 * c, 3 * s), (3 * s, -3 * c)))
    assert stroked_area([LEVEL], turned).area == pytest.approx(60.0)


@pytest.mark.parametrize("linear", [((0, 0), (0, 0)), ((1, 0), (0, 0))])
def test_squashed_or_zero_wide_strokes_paint_nothing(linear: object) -> None:
    assert stroked_area([LEVEL], pen(2, linear=linear)).is_empty  # type: ignore[arg-type]
    assert stroked_area([LEVEL], pen(0)).is_empty
    assert stroked_area([], pen(2)).is_empty


@pytest.mark.parametrize("radius", [0.01, 0.3, 2.5, 40.0])
def test_round_steps_keep_within_the_flatness(radius: float) -> None:
    sagitta = radius * (1 - cos(pi / (4 * steps_for(radius))))
    assert sagitta <= 0.005


#: On a grid of 0.5 mm lines often go back on themselves and touch.
coordinate = st.integers(0, 80).map(lambda n: n / 2) | st.integers(0, 40_000).map(lambda n: n / 1e3)
place = st.tuples(coordinate, coordinate)


@given(
    points=st.lists(place, min_size=2, max_size=6),
    width=st.floats(0.5, 12),
    closed=st.booleans(),
    seed=st.integers(0, 999),
)
@example([(0.0, 1.0), (0.0, 2.0), (0.0, 0.0), (1.0, 0.0), (0.0, 1.0)], 3.0, False, 2)
@settings(max_examples=200, deadline=None)
def test_round_strokes_are_all_that_is_near(
    points: list[tuple[float, float]], width: float, closed: bool, seed: int
) -> None:
    spread = max(hypot(x - points[0][0], y - points[0][1]) for x, y in points)
    if spread < 0.1:
        return
    area = stroked_area([contour(points, closed)], pen(width, "round", "round"))
    path = shapely.linestrings([*points, points[0]] if closed else points)
    places = shapely.points(np.random.default_rng(seed).uniform(-10, 50, (200, 2)))
    far = shapely.distance(path, places)
    clear = np.abs(far - width / 2) > 0.006
    assert area.is_valid
    assert np.array_equal(shapely.contains(area, places)[clear], (far < width / 2)[clear])


def test_curves_keep_within_the_flatness_after_widening() -> None:
    angles = np.linspace(0, pi / 2, 37)
    arc = line(*(20 * np.stack([np.cos(angles), np.sin(angles)], axis=1)))
    edge = stroked_area([arc], pen(10)).exterior
    points = shapely.get_coordinates(shapely.segmentize(edge, 0.1))
    radius = np.hypot(*points.T)
    side = points.min(axis=1) > 0.7  # not the straight ends
    assert side.sum() > 300
    off = np.abs(np.abs(radius[side] - 20) - 5)
    assert off.max() < 0.006


@pytest.mark.parametrize("cap", ["butt", "round", "square"])
@pytest.mark.parametrize("join", ["miter", "round", "bevel"])
@pytest.mark.parametrize("way", ["crossing", "to and fro"])
def test_a_long_line_over_itself_is_the_same_in_runs(cap: str, join: str, way: str) -> None:
    """Widened in short runs, against all its single corners put together."""
    step = np.arange(301)
    if way == "crossing":
        points = np.column_stack([20.0 * np.cos(step * 2.0), 20.0 * np.sin(step * 2.9)])
    else:
        points = np.column_stack([20.0 * (step % 2), 0.02 * step])
    path = line(*points.tolist())
    nib = Stroke(0.5, cap, join, 4.0, np.eye(2))
    corners = [line(*points[i : i + 3].tolist()) for i in range(1, len(points) - 3)]
    ends = [line(*points[:3].tolist()), line(*points[-3:].tolist())]
    inner = stroked_area(corners, Stroke(0.5, "butt", join, 4.0, np.eye(2)))
    whole = stroked_area([path], nib)
    assert whole.difference(inner.union(stroked_area(ends, nib))).area < 0.02
    assert inner.difference(whole).area < 1e-6
