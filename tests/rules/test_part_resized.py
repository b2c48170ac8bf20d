from __future__ import annotations

from dataclasses import replace

import pytest
from shapely import affinity

from rules.cards import bench, codes, holder, judge, near, only
from underlit.model.card import Card, Part


def scaled(x: float, y: float, mirrored: bool = False) -> Card:
    lamp = bench().lights[0]
    features = {k: affinity.scale(g, y, x, origin=(20, 24)) for k, g in lamp.features.items()}
    other = replace(lamp, scale=(x, y), mirrored=mirrored, features=features)
    return bench(lights=(other, *bench().lights[1:]))


@pytest.mark.parametrize(
    ("scale", "count"), [(1.0, 0), (1.005, 0), (1.01, 0), (1.02, 1), (0.99, 0), (0.98, 1)]
)
def test_below_at_and_above_one_percent(scale: float, count: int) -> None:
    found = judge(scaled(scale, scale))
    assert codes(found) == [("part-resized", "caution")] * count
    for finding in found:
        near(finding, 20, 24)
        assert finding.objects == ("light-1",)


def test_the_figure() -> None:
    assert "120 %" in only(scaled(1.2, 1.2), "part-resized", "caution").message
    assert "90 by 120 %" in only(scaled(1.2, 0.9), "part-resized", "caution").message


def test_mirrored_is_one_finding_even_when_scaled() -> None:
    finding = only(scaled(1.1, 1.1, mirrored=True), "part-resized", "caution")
    assert "mirrored" in finding.message


def test_a_part_of_life_size_in_other_units_is_fine() -> None:
    lamp: Part = replace(bench().lights[0], scale=(3.78, 3.78))
    assert judge(bench(lights=(lamp, *bench().lights[1:]))) == []


def test_a_holder_has_no_size_to_compare_with_but_its_scale() -> None:
    cell = replace(holder(), scale=(1.5, 1.5))
    assert codes(judge(bench(cells=(cell,)))) == [("part-resized", "caution")]
