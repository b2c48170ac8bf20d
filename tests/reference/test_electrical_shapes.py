"""Flat conductors against closed forms: finite elements and chains alike.

All values in squares (ohms over ohms per square). Where an end contact is `END` long, current
enters evenly over it, so that a straight run counts from its middle less END / 6 at each end.
"""

from __future__ import annotations

from math import acosh, log, pi

import numpy as np
import pytest
import shapely
from shapely import affinity, ops
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from rules import cards
from underlit.electrical.chains import lay_chains
from underlit.electrical.sheet import CLOSE, conductances, squares_between
from underlit.electrical.squares import arc_share, corner_squares, digamma

END, LONG, W = 5.0, 40.0, 5.0

#: A run of LONG from the far side of its end contact to where the shape begins (mm).
RUN = LONG - END / 2.0 - END / 6.0


def between(shape: BaseGeometry, a: BaseGeometry, b: BaseGeometry) -> float:
    """Squares from one place to another."""
    table = squares_between(shape, [a, b])
    return float(table[0, 0] + table[1, 1] - 2.0 * table[0, 1] - 2.0 * CLOSE)


def turned(shape: BaseGeometry, angle: float) -> BaseGeometry:
    return affinity.rotate(shape, angle, origin=(3.0, 1.0))


def measured(shape: BaseGeometry, a: BaseGeometry, b: BaseGeometry, angle: float) -> float:
    return between(turned(shape, angle), turned(a, angle), turned(b, angle))


ANGLES = [0.0, 17.0, 131.5]


# ---- closed forms ------------------------------------------------------------------------------


def test_digamma() -> None:
    """psi(1/2) = -gamma - 2 ln 2; psi(3/4) = -gamma + pi/2 - 3 ln 2; psi(1) = -gamma."""
    gamma = 0.57721566490153286
    right = [-gamma - 2 * log(2), -gamma + pi / 2 - 3 * log(2), -gamma]
    assert digamma(np.array([0.5, 0.75, 1.0])) == pytest.approx(right, abs=1e-10)


def test_d6_right_angle_corner() -> None:
    assert float(corner_squares(np.array(pi / 2))) == pytest.approx(0.5587288, abs=1e-6)
    assert float(corner_squares(np.array(pi / 2))) == pytest.approx(1 - 2 / pi * log(2), abs=1e-9)
    assert float(corner_squares(np.array(0.0))) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("inner", "outer", "angle"), [(5.0, 10.0, pi / 2), (2.0, 7.0, pi), (20.0, 25.0, 1.0)]
)
def test_d8_a_curve_is_a_piece_of_ring(inner: float, outer: float, angle: float) -> None:
    width, middle = outer - inner, (inner + outer) / 2.0
    found = angle * middle / width * float(arc_share(np.array(width / middle)))
    assert found == pytest.approx(angle / log(outer / inner), rel=1e-9)
    values = {(5.0, 10.0): 2.26618, (2.0, 7.0): 2.5077311}
    if (inner, outer) in values:
        assert found == pytest.approx(values[inner, outer], abs=1e-5)


# ---- finite elements ---------------------------------------------------------------------------


@pytest.mark.parametrize("angle", ANGLES)
def test_straight_run(angle: float) -> None:
    found = measured(box(0, 0, 60, W), box(0, 0, END, W), box(60 - END, 0, 60, W), angle)
    assert found == pytest.approx((60 - END - END / 3) / W, rel=1e-3)


@pytest.mark.parametrize("angle", ANGLES)
def test_corner(angle: float) -> None:
    """0.5587 squares for the corner itself, within 0.5 %."""
    far = LONG + W
    shape = Polygon([(0, 0), (far, 0), (far, far), (LONG, far), (LONG, W), (0, W)])
    found = measured(shape, box(0, 0, END, W), box(LONG, far - END, far, far), angle)
    assert found - 2 * RUN / W == pytest.approx(0.5587288, rel=5e-3)


@pytest.mark.parametrize(("share", "extra"), [(0.5, 0.249833), (2 / 3, 0.11137), (0.8, 0.04288)])
def test_step_along_one_edge(share: float, extra: float) -> None:
    """Within 1 % of the step, or 0.001 squares where the step is hardly there."""
    formula = (share**2 + 1) / share * log((1 + share) / (1 - share))
    formula = (formula - 2 * log(4 * share / (1 - share**2))) / pi
    assert formula == pytest.approx(extra, abs=1e-5)
    wide = W / share
    shape = box(0, 0, LONG, W).union(box(LONG, 0, 2 * LONG, wide))
    found = between(shape, box(0, 0, END, W), box(2 * LONG - END, 0, 2 * LONG, wide))
    assert found - RUN / W - RUN / wide == pytest.approx(extra, rel=1e-2, abs=1e-3)


def test_d7_step_in_the_middle() -> None:
    shape = box(0, 2.5, LONG, 7.5).union(box(LONG, 0, 2 * LONG, 10))
    found = between(shape, box(0, 2.5, END, 7.5), box(2 * LONG - END, 0, 2 * LONG, 10))
    assert found - RUN / 5 - RUN / 10 == pytest.approx(0.1249163, rel=1e-2)


TEE = box(0, 0, 2 * LONG + W, W).union(box(LONG, W, LONG + W, LONG + W))
LEFT, RIGHT = box(0, 0, END, W), box(2 * LONG + W - END, 0, 2 * LONG + W, W)
STEM = box(LONG, LONG + W - END, LONG + W, LONG + W)


@pytest.mark.parametrize("angle", ANGLES)
def test_tee_straight_through(angle: float) -> None:
    found = measured(TEE, LEFT, RIGHT, angle)
    assert found - 2 * RUN / W == pytest.approx(0.8469, rel=1e-2)


def test_tee_from_the_stem_into_both_arms() -> None:
    table = squares_between(TEE, [LEFT, RIGHT, STEM]) - CLOSE * np.eye(3)
    into = np.array([0.5, 0.5, -1.0])
    assert into @ table @ into - 1.5 * RUN / W == pytest.approx(0.3218, rel=1e-2)


def sector(inner: float, outer: float, start: float, stop: float) -> Polygon:
    angles = np.linspace(start, stop, 300)
    ring = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    return Polygon(np.concatenate([outer * ring, inner * ring[::-1]]))


@pytest.mark.parametrize(("inner", "outer"), [(5.0, 10.0), (2.0, 7.0)])
def test_d8_arc(inner: float, outer: float) -> None:
    """A longer piece of ring less a shorter one: the ends cancel."""
    whole = [
        between(sector(inner, outer, 0, to + 0.3), *ends)
        for to in (2.2, 2.2 + pi / 2)
        for ends in [(sector(inner, outer, 0, 0.3), sector(inner, outer, to, to + 0.3))]
    ]
    exact = pi / 2 / log(outer / inner)
    assert whole[1] - whole[0] == pytest.approx(exact, rel=1e-2)
    assert exact < pi / 2 * (inner + outer) / 2 / (outer - inner)


def test_slow_taper() -> None:
    """5 to 10 mm over 20 mm: at least the one-dimensional 2.77259 squares, and little more."""
    taper = Polygon([(LONG, -2.5), (LONG + 20, -5), (LONG + 20, 5), (LONG, 2.5)])
    shape = shapely.union_all([box(0, -2.5, LONG, 2.5), taper, box(LONG + 20, -5, 100, 5)])
    found = between(shape, box(0, -2.5, END, 2.5), box(100 - END, -5, 100, 5)) - RUN / 5 - RUN / 10
    assert 2.77259 * 0.995 < found < 2.77259 * 1.03


def test_two_round_contacts_on_a_large_sheet() -> None:
    """Between rims of one potential (1 / pi) arccosh(d / 2a), nearly ln(d / a) / pi; where the
    current enters evenly, 1 / 8 pi more in each."""
    a, d = 2.0, 20.0
    places = [Point(-d / 2, 0).buffer(a), Point(d / 2, 0).buffer(a)]
    found = between(Point(0, 0).buffer(150, quad_segs=16), *places)
    assert found == pytest.approx(log(d / a) / pi + 2 / (8 * pi), rel=2e-2)
    assert log(d / a) == pytest.approx(acosh(d / 2 / a), rel=1e-2)


# ---- chains ------------------------------------------------------------------------------------


def squares_of(points: list[tuple[float, float]]) -> tuple[float, bool]:
    """Squares between the end contacts of a stroke as a chain, and whether it is trusted."""
    strip = cards.strip("s", points, W)
    line = LineString(points)
    chains, fine = lay_chains([strip], [line])
    ends = np.array([END / 2, line.length - END / 2]) + W
    before = chains.before(np.array([0, 0]), ends)
    return float(before[1] - before[0] - 2 * END / 6 / W), bool(fine[0])


def as_sheet(points: list[tuple[float, float]]) -> float:
    line = LineString(points)
    ends = [
        ops.substring(line, 0, END).buffer(W / 2, cap_style="flat"),
        ops.substring(line, line.length - END, line.length).buffer(W / 2, cap_style="flat"),
    ]
    return between(cards.strip("s", points, W).geometry, *ends)


def test_straight_chain_is_exact() -> None:
    found, fine = squares_of([(0, 0), (35, 20), (70, 40)])
    assert fine
    assert found == pytest.approx((np.hypot(70, 40) - END - END / 3) / W, rel=1e-9)


def test_corner_of_a_chain_is_exact() -> None:
    found, fine = squares_of([(0, 0), (40, 0), (40, 40)])
    assert fine
    assert found == pytest.approx((80 - W - END - END / 3) / W + 0.5587288, abs=1e-6)


MEANDERS = {
    "staircase": [(0, 0), (20, 0), (20, 15), (40, 15), (40, 30), (60, 30)],
    "to and fro": [(0, 0), (30, 0), (30, 10), (0, 10), (0, 20), (30, 20)],
    "blunt": [(0, 0), (30, 0), (50, 12), (80, 5)],
    "sharp": [(0, 0), (30, 0), (20, 26), (50, 30)],
    "close": [(0, 0), (20, 0), (20, 8), (40, 8)],
}


@pytest.mark.parametrize("name", MEANDERS)
def test_chains_agree_with_the_sheet(name: str) -> None:
    found, fine = squares_of(MEANDERS[name])
    assert fine
    assert found == pytest.approx(as_sheet(MEANDERS[name]), rel=1e-2)


@pytest.mark.parametrize("radius", [5.0, 8.0, 30.0])
def test_curved_chains_agree_with_the_sheet(radius: float) -> None:
    angles = np.linspace(0, pi, 60)
    bow = [(20 + radius * np.sin(t), radius * (1 - np.cos(t))) for t in angles]
    points = [(0.0, 0.0), *bow, (0.0, 2 * radius)]
    found, fine = squares_of(points)
    assert fine
    assert found == pytest.approx(as_sheet(points), rel=1e-2)


@pytest.mark.parametrize(
    "points",
    [
        [(0, 0), (30, 0), (30, 5), (0, 5)],
        [(0, 0), (30, 0), (0, 3)],
        [(0, 0), (40, 0), (40, 20), (20, 20), (20, -20)],
    ],
    ids=["sides touch", "folded over", "crosses itself"],
)
def test_what_is_no_chain_is_not_trusted(points: list[tuple[float, float]]) -> None:
    assert not squares_of(points)[1]


# ---- many contacts -----------------------------------------------------------------------------


def test_conductances_of_a_table() -> None:
    """Three places on a line at 0, 1 and 3 ohm: 1 S, 1/2 S, and nothing past the middle."""
    at = np.array([0.0, 1.0, 3.0])
    table = 10.0 - np.abs(at[:, None] - at[None, :]) / 2.0
    found = conductances(table)
    assert found[0, 1] == pytest.approx(1.0)
    assert found[1, 2] == pytest.approx(0.5)
    assert found[0, 2] == pytest.approx(0.0, abs=1e-9)


def test_d9_copper() -> None:
    """1.724e-8 ohm m, 35 um: 0.49257 mohm a square; 200 x 5 mm: 19.703 mohm, at 40 C 21.252."""
    sheet = 1.724e-8 / 35e-6
    assert sheet == pytest.approx(0.49257e-3, rel=1e-4)
    found = between(box(-END, 0, 200 + END, W), box(-END, 0, 0, W), box(200, 0, 200 + END, W))
    length = found - 2 * END / 3 / W
    assert length * sheet == pytest.approx(19.703e-3, rel=1e-3)
    chain = lay_chains([cards.strip("s", [(0, 0), (200, 0)], W)], [LineString([(0, 0), (200, 0)])])
    ends = chain[0].before(np.array([0, 0]), np.array([W, 200 + W]))
    assert (ends[1] - ends[0]) * sheet == pytest.approx(19.703e-3, rel=1e-4)
    assert (ends[1] - ends[0]) * sheet * 1.0786 == pytest.approx(21.252e-3, rel=1e-4)
