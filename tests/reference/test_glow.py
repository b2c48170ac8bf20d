"""Light on the panel's plane against published formulas and independent sums; sources beside.

"Reference values" is the project's collection of checks; [COMP] there: computed by an independent
method. Depth 1 or 10 mm, lights of 1 cd, physical convention (exponent m + 3) throughout.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest

from underlit.glow.field import illuminance
from underlit.glow.sources import Sources, lambertian_order

Point = tuple[float, float]


def lights(at: Sequence[Sequence[float]], depth: float = 1.0, beam: float = 120.0) -> Sources:
    """Lights of 1 cd each."""
    n = len(at)
    return Sources(
        ids=tuple(f"light-{i}" for i in range(n)),
        at=np.array(at, dtype=float),
        current_ma=np.full(n, 20.0),
        candela=np.ones(n),
        depth=np.full(n, depth),
        order=np.full(n, lambertian_order(beam)),
        colour=np.ones((n, 3)),
    )


def lux(sources: Sources, *points: Point) -> np.ndarray:
    return illuminance(np.array(points, dtype=float), sources)


#: Reference values 4, first row: formula of Moreno et al., Appl. Opt. 45, 2265 (2006).
ORDERS = [(60, 4.8188), (90, 2.0), (110, 1.2470), (120, 1.0), (130, 0.8048), (140, 0.6461)]


@pytest.mark.parametrize(("beam", "order"), ORDERS)
def test_lambertian_order_of_a_beam(beam: float, order: float) -> None:
    assert lambertian_order(beam) == pytest.approx(order, abs=5e-5)
    assert math.cos(math.radians(beam / 2)) ** lambertian_order(beam) == pytest.approx(0.5)


@pytest.mark.parametrize(("x", "value"), [(0, 10000), (5, 6400), (10, 2500), (20, 400)])
def test_one_light_of_1_cd_at_10_mm(x: float, value: float) -> None:
    """Check D16: the cos^4 law of a Lambertian emitter on a parallel plane."""
    assert lux(lights([(0, 0)], 10.0), (x, 0))[0] == pytest.approx(value, rel=1e-6)


def test_half_value_of_the_cos4_law() -> None:
    """Reference values 4 [COMP]: half of the middle at x / z = 0.64359 (sqrt(sqrt 2 - 1))."""
    at = math.sqrt(math.sqrt(2.0) - 1.0)
    assert at == pytest.approx(0.64359, abs=5e-6)
    one = lights([(0, 0)])
    assert lux(one, (at, 0))[0] / lux(one, (0, 0))[0] == pytest.approx(0.5, rel=1e-12)


def test_inverse_square_and_the_cosine_of_the_plane() -> None:
    """Check D15 (byjus.com): 50 cd towards a place 1 m away, cosine of incidence 4/5: 40 lx.

    A light of 62.5 cd along its axis shines with 50 cd in the direction whose cosine is 4/5.
    """
    given = lux(lights([(0, 0)], 800.0), (600.0, 0.0))[0]
    assert 62.5 * given == pytest.approx(40.0, rel=1e-12)


@pytest.mark.parametrize("beam", [60.0, 90.0, 120.0, 140.0])
@pytest.mark.parametrize("x", [0.0, 0.7, 3.0])
def test_plane_illuminance_of_any_beam(beam: float, x: float) -> None:
    """Reference values 4 [COMP]: E = I0 z^(m+1) / (z^2 + x^2)^((m+3)/2), by angles."""
    z = 2.5
    theta = math.atan2(x, z)
    m = lambertian_order(beam)
    wanted = 1e6 * math.cos(theta) ** (m + 1) / (z**2 + x**2)
    assert lux(lights([(0, 0)], z, beam), (0, x))[0] == pytest.approx(wanted, rel=1e-12)


@pytest.mark.parametrize("beam", [90.0, 120.0, 140.0])
def test_all_light_arrives_somewhere(beam: float) -> None:
    """Flux 2 pi I0 / (m + 1) (standard; reference values 4): the plane's integral, in rings."""
    r = np.concatenate([np.linspace(0, 50, 200_001), np.geomspace(50, 1e6, 200_001)[1:]])
    e = illuminance(np.column_stack([r, np.zeros_like(r)]), lights([(0, 0)], 1.0, beam)) / 1e6
    flux = np.trapezoid(e * 2 * np.pi * r, r)
    assert flux == pytest.approx(2 * math.pi / (lambertian_order(beam) + 1), rel=1e-4)


def curvature(sources: Sources, way: Point = (1.0, 0.0), step: float = 5e-3) -> float:
    """Second derivative at the middle over the value there; five points, error of step ** 4."""
    a, b, c, d, e = lux(sources, *[(s * step * way[0], s * step * way[1]) for s in range(-2, 3)])
    return float((-a + 16 * b - 30 * c + 16 * d - e) / (12 * step**2) / c)


#: Reference values 4, numeric table, physical convention (z = 1) [COMP]:
#: beam, spacing of two lights, radius of a ring, side of a square.
FLAT = [
    (60.0, 0.6735, 0.5058, 0.7153),
    (90.0, 0.8165, 0.6325, 0.8944),
    (120.0, 0.8944, 0.7071, 1.0000),
    (130.0, 0.9124, 0.7250, 1.0253),
    (140.0, 0.9279, 0.7406, 1.0474),
]


@pytest.mark.parametrize(("beam", "pair", "ring", "square"), FLAT)
def test_spacings_of_greatest_flatness(
    beam: float, pair: float, ring: float, square: float
) -> None:
    """d = 2z / sqrt(p + 1), rho = z sqrt(2 / p), d = 2z / sqrt p with p = m + 3; E'' = 0 there."""
    p = lambertian_order(beam) + 3.0
    d, rho, side = 2 / math.sqrt(p + 1), math.sqrt(2 / p), 2 / math.sqrt(p)
    assert (d, rho, side) == pytest.approx((pair, ring, square), abs=5e-5)
    two = lights([(-d / 2, 0), (d / 2, 0)], 1.0, beam)
    assert abs(curvature(two)) < 1e-5
    round_about = [(rho * math.cos(a), rho * math.sin(a)) for a in np.arange(5) * 2 * math.pi / 5]
    assert abs(curvature(lights(round_about, 1.0, beam))) < 1e-5
    assert abs(curvature(lights(round_about, 1.0, beam), (0.6, 0.8))) < 1e-5
    four = [(x, y) for x in (-side / 2, side / 2) for y in (-side / 2, side / 2)]
    assert abs(curvature(lights(four, 1.0, beam))) < 1e-5


def test_spacings_of_check_d17() -> None:
    """Check D17: at z = 10 mm with the second cosine 8.944 and 10.000 mm are flat; the spacings
    without it (Moreno 2006: 10.000 and 11.547 mm) are wider and dip in the middle."""
    for half, flat in ((8.944 / 2, True), (10.0 / 2, False)):
        two = lights([(-half, 0), (half, 0)], 10.0)
        bend = curvature(two, step=5e-2) * 100.0
        assert (abs(bend) < 5e-4) if flat else (bend > 0.1)


#: Roots of the row's equation, p = 4 [COMP]: number of lights, spacing over depth.
ROWS = [(2, 0.89443), (4, 0.71607), (6, 0.62545)]


@pytest.mark.parametrize(("count", "spacing"), ROWS)
def test_flat_rows(count: int, spacing: float) -> None:
    at = [((i - (count - 1) / 2) * spacing, 0.0) for i in range(count)]
    assert abs(curvature(lights(at))) < 5e-5


def grid_ratio(pitch: float, radius: float) -> float:
    """Darkest over brightest of a square grid of lights, by a sum out to a radius (z = 1).

    Darkest: the middle of four lights; brightest: over one. What lies beyond the radius adds the
    same to both: pi / (pitch^2 R^2) for E = 1 / (1 + r^2)^2.
    """
    n = int(radius / pitch) + 1
    i = np.arange(-n, n + 1) * pitch
    at = np.stack(np.meshgrid(i, i), axis=-1).reshape(-1, 2)
    middle = np.array([pitch / 2, pitch / 2])
    found = []
    for point in (middle, np.zeros(2)):
        near = at[np.hypot(*(at - point).T) <= radius]
        beyond = 1e6 * math.pi / pitch**2 / (1.0 + radius**2)
        found.append(float(illuminance(point[None], lights(near.tolist()))[0]) + beyond)
    return found[0] / found[1]


#: Reference values 4, direct sums to radius 1,000 [COMP].
GRIDS = [(1.0, 0.951635), (1.5, 0.716543), (2.0, 0.439450)]


@pytest.mark.parametrize(("pitch", "ratio"), GRIDS)
def test_square_grids(pitch: float, ratio: float) -> None:
    assert grid_ratio(pitch, 150.0) == pytest.approx(ratio, abs=1e-6)


@pytest.mark.parametrize(
    ("pitch", "ratio"), [(0.5, 0.9999), (1.25, 0.855), (2.5, 0.253), (3, 0.147)]
)
def test_square_grids_of_the_spacing_rule(pitch: float, ratio: float) -> None:
    assert grid_ratio(pitch, 60.0) == pytest.approx(ratio, abs=6e-4)


@pytest.mark.parametrize(
    ("pitch", "ratio"), [(1, 0.947), (1.5, 0.729), (2, 0.481), (3, 0.190), (4, 0.081)]
)
def test_single_rows_of_the_spacing_rule(pitch: float, ratio: float) -> None:
    """Middle between two over under one [COMP]."""
    at = [(i * pitch, 0.0) for i in range(-400, 401)]
    middle, under = lux(lights(at), (pitch / 2, 0), (0, 0))
    assert middle / under == pytest.approx(ratio, abs=6e-4)


def test_deeper_is_more_even() -> None:
    """Ripple falls with depth (reference values 4, test use)."""
    at = [(0.0, 0.0), (8.0, 0.0)]
    ratios = []
    for depth in (2.0, 4.0, 6.0, 10.0):
        middle, under = lux(lights(at, depth), (4, 0), (0, 0))
        ratios.append(middle / under)
    assert ratios == sorted(ratios)
