"""Feeds, ladders and worked examples of textbooks (D1 to D5, D10 to D14)."""

from __future__ import annotations

import numpy as np
import pytest

from electrical.nets import BLUE, GREEN, RED, network
from underlit.electrical.elimination import make_plan, solve
from underlit.electrical.operating import operating_point
from underlit.electrical.parts import thermal_volt
from underlit.units import next_resistor


def drops(loads: list[float], ohms: list[float]) -> np.ndarray:
    """Drop (V) at each load along a feeder of loop resistances `ohms` (A, ohm)."""
    n = len(loads)
    ends = np.array([(i, i + 1) for i in range(n)])
    leak = np.zeros((n + 1, 1))
    leak[0] = 1.0
    amps = -np.array([0.0, *loads])[:, None]
    amps[0] = sum(loads)
    plan = make_plan(n + 1, ends)
    volts = solve(plan.factor(1.0 / np.array(ohms)[:, None], leak), amps)[:, 0]
    return volts[0] - volts[1:]


def test_thermal_voltage() -> None:
    assert thermal_volt(25.0) == pytest.approx(25.6926e-3, rel=1e-5)
    assert thermal_volt(300.0 - 273.15) == pytest.approx(25.852e-3, rel=1e-4)


def test_d1_two_wire_distributor() -> None:
    """Textbook example 13.1, D.C. distribution."""
    lengths = [0.5, 0.5, 0.6, 0.4]
    found = 300.0 - drops([100.0, 150.0, 200.0, 50.0], [0.02 * km for km in lengths])
    assert found == pytest.approx([295.0, 291.0, 288.0, 287.6], abs=1e-9)


def test_d2_same_end_feed() -> None:
    found = drops([2.5e-3] * 8, [0.1] * 8) * 1e3
    right = [2.00, 3.75, 5.25, 6.50, 7.50, 8.25, 8.75, 9.00]
    assert found == pytest.approx(right, abs=1e-9)


def test_d3_even_load_from_one_end_and_from_both() -> None:
    n = 1000
    one = drops([50e-3 / n] * n, [2.0 / n] * n)
    assert one[-1] * 1e3 == pytest.approx(50.05, rel=1e-6)
    ends = np.array([(i, i + 1) for i in range(n)] + [(n, 0)])
    ohms = np.array([2.0 / n] * n + [2.0 / n])
    amps = np.full((n + 1, 1), -50e-3 / n)
    amps[0] = 50e-3
    leak = np.zeros((n + 1, 1))
    leak[0] = 1.0
    volts = solve(make_plan(n + 1, ends).factor(1.0 / ohms[:, None], leak), amps)[:, 0]
    assert (volts[0] - volts.min()) * 1e3 == pytest.approx(12.5, rel=5e-3)


@pytest.mark.parametrize(
    ("sections", "ohm"), [(1, 2.0), (2, 5 / 3), (3, 13 / 8), (4, 34 / 21), (5, 89 / 55)]
)
def test_d4_ladder(sections: int, ohm: float) -> None:
    """Series 1, shunt 1: F(2N+1) / F(2N)."""
    rails = [(i, i + 1) for i in range(sections)]
    ground = sections + 1
    ends = np.array(rails + [(i + 1, ground) for i in range(sections)])
    leak = np.zeros((ground + 1, 1))
    leak[ground] = 1.0
    amps = np.zeros((ground + 1, 1))
    amps[0], amps[ground] = 1.0, -1.0
    factors = make_plan(ground + 1, ends).factor(np.ones((len(ends), 1)), leak)
    volts = solve(factors, amps)[:, 0]
    assert volts[0] - volts[ground] == pytest.approx(ohm, abs=1e-12)


def test_d4_a_ladder_of_a_thousand_sections() -> None:
    n = 1000
    ends = np.array([(i, i + 1) for i in range(n)] + [(i + 1, n + 1) for i in range(n)])
    leak = np.zeros((n + 2, 1))
    leak[n + 1] = 1.0
    amps = np.zeros((n + 2, 1))
    amps[0], amps[n + 1] = 1.0, -1.0
    volts = solve(make_plan(n + 2, ends).factor(np.ones((2 * n, 1)), leak), amps)[:, 0]
    assert volts[0] - volts[n + 1] == pytest.approx((1 + 5**0.5) / 2, abs=1e-12)


@pytest.mark.parametrize(("reverse", "right"), [(True, [14, 16, 16, 14]), (False, [8, 14, 18, 20])])
def test_d5_reverse_return(reverse: bool, right: list[float]) -> None:
    """Four loads of 1 A between two rails of 1 ohm a segment, minus led back or led on."""
    plus = [(i, i + 1) for i in range(4)]
    minus = [(5 + i, 6 + i) for i in range(4)]
    amps = np.zeros((10, 1))
    for k in range(4):
        amps[k + 1] -= 1.0
        amps[(5 + k) if reverse else (6 + k)] += 1.0
    source = 9 if reverse else 5
    amps[0], amps[source] = amps[0] + 4.0, amps[source] - 4.0
    leak = np.zeros((10, 1))
    leak[0] = leak[source] = 1.0
    volts = solve(make_plan(10, np.array(plus + minus)).factor(np.ones((8, 1)), leak), amps)[:, 0]
    feed = volts[0] - volts[source]
    loads = [feed - (volts[k + 1] - volts[(5 + k) if reverse else (6 + k)]) for k in range(4)]
    assert loads == pytest.approx(right, abs=1e-9)


def test_d10_inner_resistance_from_a_load() -> None:
    """4.8 V EMF shows 4.5 V across 300 ohm: 20 ohm inside; a light of 3.6 V then needs 40."""
    found = operating_point(network(2, [(0, 1, 300.0)], [], [(0, 1, 4.8, 20.0)]))
    assert found.volts[0, 0] - found.volts[1, 0] == pytest.approx(4.5, abs=1e-9)
    stiff = (0.02 * np.exp(-3.6 / (0.25 * thermal_volt(25.0))), 0.25, 1e-3)
    held = network(3, [(0, 2, 40.0)], [(2, 1, *stiff)], [(0, 1, 4.8, 20.0)])
    assert operating_point(held).light_amps[0, 0] == pytest.approx(0.02, rel=1e-4)


def test_d11_next_resistor() -> None:
    series = (9.0 - 2.0) / 15e-3
    assert series == pytest.approx(466.67, rel=1e-3)
    assert next_resistor(series) == 470.0
    assert next_resistor(470.0) == 470.0
    assert next_resistor(470.1) == 560.0
    assert next_resistor(82.1) == 100.0
    assert next_resistor(0.2) == 1.0


@pytest.mark.parametrize(("ideality", "volt"), [(4.09, 2.0105), (6.68, 3.2824)])
def test_d12_voltage_at_20_ma(ideality: float, volt: float) -> None:
    light = (1e-10, ideality, 0.1)
    for off, above in ((-1e-3, False), (1e-3, True)):
        net = network(2, [], [(0, 1, *light)], [(0, 1, volt + off, 0.0)])
        assert (operating_point(net).light_amps[0, 0] > 20e-3) == above


@pytest.mark.parametrize(("celsius", "ma"), [(25.0, 44.898), (26.85, 44.475)])
def test_d13_red_through_20_ohm(celsius: float, ma: float) -> None:
    net = network(2, [], [(0, 1, 1e-22, 1.5, 6.0)], [(0, 1, 3.0, 20.0)], celsius)
    assert operating_point(net).light_amps[0, 0] * 1e3 == pytest.approx(ma, rel=1e-3)


def test_d14_one_green_and_four_blue() -> None:
    one = operating_point(network(2, [], [(0, 1, *GREEN)], [(0, 1, 3.0, 15.0)]))
    assert one.light_amps[0, 0] * 1e3 == pytest.approx(7.977, rel=5e-3)
    four = operating_point(network(2, [], [(0, 1, *BLUE)] * 4, [(0, 1, 3.0, 15.0)]))
    assert four.light_volts[0, 0] == pytest.approx(2.7577, rel=5e-3)
    assert four.light_amps[:, 0] * 1e3 == pytest.approx([4.039] * 4, rel=5e-3)


@pytest.mark.parametrize(
    ("lights", "bus", "ma"),
    [
        ([RED] * 4, 1.977, [17.05] * 4),
        ([BLUE] * 6, 2.716, [3.16] * 6),
        ([RED, BLUE], 2.213, [52.44, 0.014]),
        ([RED] * 3 + [BLUE] * 3, 2.014, [21.9] * 3 + [0.001] * 3),
    ],
)
def test_mixed_colours(lights: list, bus: float, ma: list[float]) -> None:  # type: ignore[type-arg]
    """Computed for this project: side by side on 3 V and 15 ohm."""
    found = operating_point(network(2, [], [(0, 1, *x) for x in lights], [(0, 1, 3.0, 15.0)]))
    assert found.light_volts[0, 0] == pytest.approx(bus, abs=1e-3)
    assert found.light_amps[:, 0] * 1e3 == pytest.approx(ma, rel=5e-3, abs=5e-4)
