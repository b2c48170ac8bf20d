"""Centre lines of strips that stay."""

from __future__ import annotations

import pytest
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from underlit.routing.pins import middle_line
from underlit.routing.task import Pinned


@pytest.mark.parametrize(
    ("area", "ends"),
    [
        (box(10, 20, 50, 25), [(10.0, 22.5), (50.0, 22.5)]),
        (box(10, 20, 15, 60), [(12.5, 20.0), (12.5, 60.0)]),
        (LineString([(3, 4), (9, 4)]), [(3.0, 4.0), (9.0, 4.0)]),
    ],
)
def test_of_a_filled_strip(area: BaseGeometry, ends: list[tuple[float, float]]) -> None:
    line = middle_line(Pinned("own", area, 5.0, None, "positive"))
    assert sorted(line.coords) == ends


def test_of_nothing() -> None:
    assert middle_line(Pinned("own", Polygon(), 5.0, None, "positive")).length == 0.0
