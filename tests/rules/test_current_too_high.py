from __future__ import annotations

import re

import pytest

from rules.cards import (
    SPOTS,
    bench,
    case,
    codes,
    judge,
    light,
    near,
    opening,
    profile,
    said,
    with_light,
)
from underlit.model.finding import Finding
from underlit.model.operation import MINUTE
from underlit.profiles import Profile

ONE = bench(lights=(light("light-1", SPOTS[0], type="red"),), openings=(opening(1, SPOTS[0]),))


def hot(own: Profile) -> list[Finding]:
    return [f for f in judge(ONE, own) if f.rule == "current-too-high"]


def amps() -> float:
    operation = case(bench()).operation
    assert operation is not None
    return operation.lights["light-1"].amps[MINUTE]


@pytest.mark.parametrize(("share", "found"), [(0.99, 1), (1.0, 0), (1.01, 0)])
def test_above_at_and_below_the_limit(share: float, found: int) -> None:
    """All three lights get nearly the same; the first one least."""
    own = with_light(largest_ma=1e3 * amps() * share)
    over = [f for f in judge(bench(), own) if f.objects == ("light-1",)]
    assert codes(over) == [("current-too-high", "stop")] * found


def test_says_what_it_takes_and_what_helps() -> None:
    own = with_light("red", largest_ma=12.0)
    finding = hot(own)[0]
    said(finding)
    near(finding, *SPOTS[0])
    assert "limit is 12." in finding.message
    ohm, then = re.search(r"resistor of (\d+) ohms .* about ([\d.]+) mA", finding.remedy).groups()  # type: ignore[union-attr]
    assert float(then) <= 12.0
    cured = with_light("red", largest_ma=12.0, resistor_ohm=float(ohm))
    assert hot(cured) == []
    assert hot(with_light("red", largest_ma=12.0, resistor_ohm=float(ohm) / 2)) != []


def test_a_red_light_alone_on_the_usual_battery_is_fine() -> None:
    assert hot(profile()) == []
