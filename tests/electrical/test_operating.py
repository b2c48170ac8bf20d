"""Operating points: against ngspice, by Kirchhoff's laws, and monotone where physics is."""

from __future__ import annotations

import random
import shutil
from dataclasses import replace

import numpy as np
import pytest

from electrical.nets import BLUE, GREEN, RED, SpiceTrouble, chance, network, spice_currents
from underlit.electrical.operating import RESIDUAL, Network, operating_point

needs_spice = pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is missing")


def currents(net: Network) -> np.ndarray:
    return operating_point(net).light_amps[:, 0]


def agrees(seed: int) -> None:
    net = chance(seed)
    mine, other = currents(net), spice_currents(net)
    off = np.abs(mine - other)
    assert ((off <= 1e-6) | (off <= 1e-3 * np.abs(other))).all(), (seed, mine, other)


@needs_spice
@pytest.mark.parametrize("seed", range(40))
def test_against_ngspice(seed: int) -> None:
    agrees(seed)


@needs_spice
@pytest.mark.slow
@pytest.mark.parametrize("seed", range(40, 300))
def test_against_ngspice_long(seed: int) -> None:
    agrees(seed)


@needs_spice
def test_the_wrapper_takes_no_warning_for_an_answer() -> None:
    net = chance(3)
    with pytest.raises(SpiceTrouble):
        spice_currents(replace(net, volt=net.volt * np.nan))


@needs_spice
def test_the_comparison_would_notice() -> None:
    """A percent more resistance in every light is seen."""
    net = network(2, [], [(0, 1, *RED)], [(0, 1, 3.0, 15.0)])
    other = spice_currents(network(2, [], [(0, 1, *RED)], [(0, 1, 3.0, 15.15)]))
    assert abs(currents(net) - other)[0] > 1e-3 * other[0]


@pytest.mark.parametrize("seed", range(300))
def test_currents_add_up_at_every_node(seed: int) -> None:
    """Kirchhoff again, from the potentials, as a book would write it."""
    net = chance(seed)
    found = operating_point(net)
    assert found.residual < RESIDUAL
    volts = found.volts[:, 0]
    total = np.zeros(net.nodes)
    for (a, b), siemens in zip(net.ends.tolist(), net.siemens[:, 0].tolist(), strict=True):
        total[a] -= siemens * (volts[a] - volts[b])
        total[b] += siemens * (volts[a] - volts[b])
    for (a, b), amps in zip(net.lights.tolist(), found.light_amps[:, 0].tolist(), strict=True):
        total[a] -= amps
        total[b] += amps
    for (a, b), amps in zip(net.cells.tolist(), found.cell_amps[:, 0].tolist(), strict=True):
        total[a] += amps
        total[b] -= amps
    assert np.abs(total).max() < RESIDUAL


@pytest.mark.parametrize("seed", range(60))
def test_the_diodes_own_law_holds(seed: int) -> None:
    net = chance(seed)
    found = operating_point(net)
    amps, d = found.light_amps - 1e-12 * found.light_volts, net.diodes
    inner = found.light_volts - amps * d.ohm
    lit = amps > 1e-9
    law = d.slope * np.log(np.where(lit, amps, 1.0) / d.saturation + 1.0)
    np.testing.assert_allclose(inner[lit], law[lit], atol=1e-9)


@pytest.mark.parametrize("seed", range(40))
def test_more_resistance_before_a_light_never_brightens_it(seed: int) -> None:
    """In series with the light itself, and in the cell that alone feeds it."""
    rng = random.Random(seed)
    net = chance(1000 + seed)
    before = currents(net)
    k = rng.randrange(len(before))
    ohm = net.diodes.ohm.copy()
    ohm[k] += 10 ** rng.uniform(-1.0, 3.0)
    after = currents(replace(net, diodes=replace(net.diodes, ohm=ohm)))
    assert after[k] <= before[k] + 1e-9 or before[k] < 0.0


@pytest.mark.parametrize("seed", range(40))
def test_a_weaker_cell_brightens_nothing(seed: int) -> None:
    net = chance(2000 + seed)
    if len(net.cells) > 1:
        net = replace(net, cells=net.cells[:1], volt=net.volt[:1], ohm=net.ohm[:1])
    weak = replace(net, ohm=net.ohm * 1.7)
    before, after = operating_point(net), operating_point(weak)
    assert after.cell_amps[0, 0] <= before.cell_amps[0, 0] + 1e-12
    lit = np.maximum(before.light_amps, 0.0)
    assert (after.light_amps <= lit + 1e-9).all()


def test_rungs_between_rails_grow_dimmer_away_from_the_cell() -> None:
    rails = [(2 * i + k, 2 * i + 2 + k, 0.7) for i in range(9) for k in (0, 1)]
    lights = [(2 * i, 2 * i + 1, *BLUE) for i in range(10)]
    found = currents(network(20, rails, lights, [(0, 1, 3.0, 15.0)]))
    assert (np.diff(found) < 0.0).all()


def test_open_shorted_and_reversed_parts() -> None:
    nothing = currents(network(4, [], [(2, 3, *BLUE)], [(0, 1, 3.0, 15.0)]))
    assert abs(nothing[0]) < 1e-12
    short = operating_point(network(2, [(0, 1, 0.0)], [(0, 1, *BLUE)], [(0, 1, 3.0, 15.0)]))
    assert short.cell_amps[0, 0] == pytest.approx(0.2, rel=1e-9)
    assert abs(short.light_amps[0, 0]) < 1e-15
    reverse = currents(network(2, [], [(1, 0, *RED), (0, 1, *RED)], [(0, 1, 3.0, 15.0)]))
    assert reverse[0] == pytest.approx(-3e-12, abs=2e-12)
    assert reverse[1] > 0.03


def test_two_in_a_row_on_one_cell_stay_dark() -> None:
    found = currents(network(3, [], [(0, 2, *BLUE), (2, 1, *BLUE)], [(0, 1, 3.0, 15.0)]))
    assert found[0] == pytest.approx(found[1], rel=1e-6)
    assert found[0] < 1e-7


def test_cells_in_parallel_share() -> None:
    alike = [(0, 1, 3.0, 20.0)] * 2
    one = operating_point(network(2, [], [(0, 1, *GREEN)], [(0, 1, 3.0, 10.0)]))
    two = operating_point(network(2, [], [(0, 1, *GREEN)], alike))
    assert two.light_amps[0, 0] == pytest.approx(one.light_amps[0, 0], rel=1e-9)
    assert two.cell_amps[:, 0] == pytest.approx([one.cell_amps[0, 0] / 2] * 2, rel=1e-9)
    weak = operating_point(network(2, [], [], [(0, 1, 3.0, 20.0), (0, 1, 2.0, 20.0)]))
    assert weak.cell_amps[:, 0] == pytest.approx([0.025, -0.025], rel=1e-9)


@pytest.mark.parametrize("ohm", [0.0, 1e-6, 1e6])
def test_any_resistance_of_a_cell_converges(ohm: float) -> None:
    found = operating_point(network(2, [], [(0, 1, 1e-30, 0.5, 0.0)], [(0, 1, 9.0, ohm)]))
    assert found.residual < RESIDUAL
    assert found.light_amps[0, 0] > 0.0


def test_a_network_of_nothing() -> None:
    found = operating_point(network(0, [], [], []))
    assert found.residual == 0.0


# ---- what a light sees, and the band of its own scatter --------------------------------------


def shifted(net: Network, light: int, volt: float) -> float:
    """The current of one light whose forward voltage alone is higher, the whole solved anew."""
    own = net.diodes
    factor = np.ones_like(own.saturation)
    factor[light] = np.exp(-volt / own.slope[light])
    return currents(replace(net, diodes=replace(own, saturation=own.saturation * factor)))[light]


@pytest.mark.parametrize("light", [RED, BLUE, GREEN])
@pytest.mark.parametrize("volt", [-0.1, 0.1])
def test_one_light_behind_a_resistor_is_solved_exactly(light: tuple, volt: float) -> None:
    net = network(3, [(0, 1, 1000.0)], [(1, 2, *light)], [(0, 2, 3.0, 60.0)])
    found = operating_point(net)
    source = found.source_ohm(0, np.array([0]))
    assert source[0] == pytest.approx(1060.0, rel=1e-6)
    at = found.light_volts[:, [0]] + source[:, None] * found.light_amps[:, [0]] - volt
    own = net.diodes
    behind = replace(own, ohm=own.ohm + source[:, None])
    assert behind.state(at)[0][0, 0] == pytest.approx(shifted(net, 0, volt), rel=1e-6)


@needs_spice
@pytest.mark.parametrize("volt", [-0.1, 0.1])
def test_the_band_behind_a_kilohm_against_ngspice(volt: float) -> None:
    """A light that needs 0.1 V more gets what one gets from a cell of 0.1 V less."""
    other = spice_currents(
        network(3, [(0, 1, 1000.0)], [(1, 2, *RED)], [(0, 2, 3.0 - volt, 15.0)])
    )[0]
    net = network(3, [(0, 1, 1000.0)], [(1, 2, *RED)], [(0, 2, 3.0, 15.0)])
    assert shifted(net, 0, volt) == pytest.approx(other, rel=1e-3)


def test_sources_are_what_a_small_current_finds() -> None:
    """Take a light out, send a microampere through its feet: the voltage moves by that."""
    net = network(
        5,
        [(0, 1, 5.0), (1, 2, 7.0), (3, 4, 11.0)],
        [(1, 4, *RED), (2, 4, *BLUE), (2, 3, *GREEN)],
        [(0, 4, 3.0, 20.0)],
    )
    found = operating_point(net)
    for k, (a, b) in enumerate(net.lights.tolist()):
        volts = []
        for amps in (-1e-7, 1e-7):
            pinned = found.light_amps[k, 0] + amps
            others = [i for i in range(3) if i != k]
            stiff = 1e9  # a cell of almost no current change stands for the light
            drop = found.light_volts[k, 0] - pinned * stiff
            cells = [(0, 4, 3.0, 20.0), (a, b, drop, stiff)]
            kinds = [RED, BLUE, GREEN]
            rest = network(
                5,
                [(0, 1, 5.0), (1, 2, 7.0), (3, 4, 11.0)],
                [(*net.lights[i].tolist(), *kinds[i]) for i in others],
                cells,
            )
            at = operating_point(rest).volts[:, 0]
            volts.append(at[a] - at[b])
        source = found.source_ohm(0, np.array([k]))[0]
        assert source == pytest.approx((volts[0] - volts[1]) / 2e-7, rel=0.01)


@pytest.mark.parametrize("seed", range(60))
def test_the_band_is_near_the_whole_solved_anew(seed: int) -> None:
    """Among other lights the source is taken as straight: within 15 % or 20 microamperes."""
    net = chance(seed)
    found = operating_point(net)
    source = found.source_ohm(0, np.arange(len(net.lights)))[:, None]
    own = net.diodes
    behind = replace(own, ohm=own.ohm + source)
    for volt in (-0.1, 0.1):
        at = found.light_volts[:, [0]] + source * found.light_amps[:, [0]] - volt
        mine = behind.state(at)[0][:, 0]
        for k in range(len(net.lights)):
            true = shifted(net, k, volt)
            assert mine[k] == pytest.approx(true, rel=0.15, abs=2e-5), (seed, k, volt)
