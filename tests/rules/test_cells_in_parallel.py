from __future__ import annotations

from shapely import affinity
from shapely.geometry import box

from rules.cards import BASE, bench, codes, holder, judge, near, only, strip
from underlit.model.card import Card, Panel

TALL = box(0, 0, 100, 110)


def beside(*more: object, count: int = 2) -> Card:
    """Further batteries below the first, on the same two leads."""
    low = 60 + 24 * (count - 1)
    leads = [
        strip("plus", ((10, 20), (90, 20), (90, low + 2.5)), polarity="positive"),
        strip("minus", ((10, 28), (60, 28), (60, low + 2.5)), polarity="negative"),
    ]
    cells = tuple(holder(f"battery-{i + 1}", (75, 60 + 24 * i)) for i in range(count))
    tall = affinity.scale(BASE, 1, 2, origin=(0, 0))
    return bench(*more, strips=leads, cells=cells, base=tall, panels=(Panel("panel", tall),))  # type: ignore[arg-type]


def test_two_are_one_caution() -> None:
    finding = only(beside(), "cells-in-parallel", "caution")
    near(finding, 75, 84)
    assert finding.objects == ("battery-1", "battery-2")
    assert finding.message.startswith("2 batteries")


def test_three_are_still_one_and_one_is_none() -> None:
    assert codes(judge(beside(count=3))) == [("cells-in-parallel", "caution")]
    assert judge(beside(count=1)) == []
