"""Life of a cell: only its shape can be tested, since the data is soft."""

from __future__ import annotations

import pytest

from underlit.electrical.life import BAND, SHELF_LIFE, hours, presses, usable_share
from underlit.profiles import load_profile

CELLS = load_profile("hand-laid").cells
CR2032 = CELLS["cr2032"]


def test_the_anchor_and_the_middle() -> None:
    assert usable_share(CR2032, 0.1e-3) == 1.0
    assert usable_share(CR2032, 0.2e-3) == pytest.approx(1.0)
    assert usable_share(CR2032, 10e-3) == pytest.approx(0.35)
    assert usable_share(CR2032, 40e-3) == pytest.approx(0.075)


@pytest.mark.parametrize("name", CELLS)
def test_more_current_never_lasts_longer(name: str) -> None:
    loads = [1e-6 * 1.3**k for k in range(50)]
    shares = [usable_share(CELLS[name], amps) for amps in loads]
    lives = [hours(CELLS[name], [amps]) for amps in loads]
    assert shares == sorted(shares, reverse=True)
    assert lives == sorted(lives, reverse=True)
    assert all(0.0 < share <= 1.0 for share in shares)


def test_hours_are_a_band_about_capacity_over_current() -> None:
    low, high = hours(CR2032, [5e-3])
    middle = 225.0 * 0.55 / 5.0
    assert (low, high) == pytest.approx((middle * (1 - BAND), middle * (1 + BAND)))
    wide = hours(CR2032, [5e-3, 4e-3, 6e-3])
    assert wide[0] < low < high < wide[1]


def test_a_larger_cell_bears_more() -> None:
    assert usable_share(CELLS["cr2450"], 10e-3) > usable_share(CR2032, 10e-3)
    assert usable_share(CELLS["cr1220"], 3e-3) < usable_share(CR2032, 3e-3)


def test_no_cell_outlives_its_shelf() -> None:
    assert hours(CR2032, [1e-7]) == (SHELF_LIFE, SHELF_LIFE)


def test_presses_of_ten_seconds() -> None:
    low, high = presses(CR2032, [5e-3, 10e-3])
    assert low == int(225.0 * 0.35 / 10.0 * 0.7 * 360)
    assert high == int(225.0 * 0.55 / 5.0 * 1.3 * 360)
