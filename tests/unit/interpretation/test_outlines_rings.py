"""One closed line judged alone (features of parts are judged by this too)."""

from __future__ import annotations

import pytest

from underlit.interpretation.rings import self_crossing
from underlit.model.drawing import Contour
from unit.build import circle, contour, rectangle

CURL = contour([(0, 0), (10, 0), (10, 8), (3, 8), (3, 4), (6, 4), (6, 10), (0, 10)])


def test_place_of_a_crossing_depends_on_the_fill_rule() -> None:
    assert self_crossing(CURL, "nonzero") == pytest.approx((6, 8))
    assert self_crossing(CURL, "evenodd") is None


@pytest.mark.parametrize(
    "plain", [rectangle(0, 0, 3, 3), circle(0, 0, 3), contour([(0, 0), (1, 1)]), contour([])]
)
def test_simple_lines_do_not_cross(plain: Contour) -> None:
    assert self_crossing(plain, "nonzero") is None
