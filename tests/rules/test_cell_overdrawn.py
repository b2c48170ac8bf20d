from __future__ import annotations

import re
from dataclasses import replace

import pytest

from rules.cards import bench, case, codes, judge, only, with_cell
from underlit.model.operation import MINUTE


def amps() -> float:
    operation = case(bench()).operation
    assert operation is not None
    return operation.cells["battery"].amps[MINUTE]


@pytest.mark.parametrize(("share", "found"), [(0.99, 1), (1.0, 0), (1.01, 0)])
def test_above_at_and_below_the_limit(share: float, found: int) -> None:
    rules = codes(judge(bench(), with_cell(continuous_ma=1e3 * amps() * share)))
    assert rules == [("cell-overdrawn", "caution")] * found


def test_says_what_helps_and_it_does() -> None:
    own = with_cell(continuous_ma=3.0)
    finding = only(bench(), "cell-overdrawn", "caution", own)
    assert finding.objects == ("battery",)
    ohm = re.search(r"resistor of (\d+) ohms before each light", finding.remedy)
    assert ohm is not None
    white = replace(own.lights["warm-white"], resistor_ohm=float(ohm[1]))
    cured = replace(own, lights={**own.lights, "warm-white": white})
    assert "cell-overdrawn" not in {f.rule for f in judge(bench(), cured)}
