"""Drawn parts as areas, and signs that read upright."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
import shapely.affinity

from underlit.markup.part_shapes import bare_cell, flap_cell
from underlit.profiles import load_profile
from underlit.workflows.part_areas import area_of, features_of, placed_part, upright

CELL = load_profile(None).cells["cr2032"]


def signs(part) -> list[shapely.Geometry]:
    """The shapes right after a foot, in their own frame."""
    shapes = part.shapes
    return [
        area_of(shapes[i + 1].outline)
        for i, shape in enumerate(shapes[:-1])
        if shape.feature in {"positive-pad", "negative-pad"}
    ]


@pytest.mark.parametrize("angle", [45.0, 90.0, 117.0])
@pytest.mark.parametrize("draw", [bare_cell, flap_cell])
def test_signs_read_upright_on_a_turned_part(angle: float, draw) -> None:
    plain = draw("cr2032", CELL)
    turned = upright(plain, angle)
    for before, after in zip(signs(plain), signs(turned), strict=True):
        on_page = shapely.affinity.rotate(after, angle, origin=(0.0, 0.0))
        centre = on_page.centroid
        back = shapely.affinity.translate(
            before, centre.x - before.centroid.x, centre.y - before.centroid.y
        )
        assert on_page.symmetric_difference(back).area < 1e-6
    for name, area in features_of(plain).items():
        assert features_of(turned)[name].equals(area)


def test_a_part_that_lies_straight_is_left_as_it_is() -> None:
    part = bare_cell("cr2032", CELL)
    assert upright(part, 180.0) is part


def test_a_placed_part_is_turned_clockwise_then_moved() -> None:
    part = placed_part(bare_cell("cr2032", CELL), "battery", (50.0, 60.0), 90.0, {"up": "plus"})
    plus = part.features["positive-pad"].centroid
    assert np.allclose((plus.x, plus.y), (50.0, 65.0))
    assert (part.kind, part.type, part.attributes["up"]) == ("cell", "cr2032", "plus")
