from __future__ import annotations

import pytest

from rules.cards import bench, case, codes, judge, only, with_limits


def hours() -> tuple[float, float]:
    operation = case(bench()).operation
    assert operation is not None
    return operation.cells["battery"].hours


@pytest.mark.parametrize(("share", "found"), [(0.99, 0), (1.0, 0), (1.01, 1)])
def test_below_at_and_above_the_limit(share: float, found: int) -> None:
    rules = codes(judge(bench(), with_limits(least_hours=hours()[0] * share)))
    assert rules == [("cell-life-short", "caution")] * found


def test_words() -> None:
    finding = only(bench(), "cell-life-short", "caution", with_limits(least_hours=48.0))
    assert "estimate" in finding.message
    assert "presses of 10 seconds" in finding.message
    assert "then lasts about" in finding.remedy
    assert finding.objects == ("battery",)


def test_a_limit_that_nothing_meets_still_has_a_remedy() -> None:
    finding = only(bench(), "cell-life-short", "caution", with_limits(least_hours=9000.0))
    assert finding.remedy


def test_the_shorter_end_differs_from_the_limit_that_it_misses() -> None:
    least = hours()[0] * 1.001
    finding = only(bench(), "cell-life-short", "caution", with_limits(least_hours=least))
    assert f"about {hours()[0]:.2f} to" in finding.message
    assert f"{least:.1f} is the least" in finding.message
