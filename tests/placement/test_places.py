"""Visual centres of shapes with known ones; what stays open, and where several are as good."""

from __future__ import annotations

import math

import pytest
import shapely

from placement.cards import LIGHT, around, opening, place
from underlit.placement.poles import visual_centre

SQRT2 = math.sqrt(2.0)

#: Closed forms: (name, area, centre or None where there are several, radius).
KNOWN = [
    ("3-4-5 triangle", shapely.Polygon([(0, 0), (30, 0), (0, 40)]), (10.0, 10.0), 10.0),
    ("rhombus", shapely.Polygon([(30, 0), (0, 40), (-30, 0), (0, -40)]), (0.0, 0.0), 24.0),
    (
        "L with arms 10 wide",
        shapely.Polygon([(0, 0), (40, 0), (40, 10), (10, 10), (10, 40), (0, 40)]),
        (20.0 - 10.0 * SQRT2, 20.0 - 10.0 * SQRT2),
        20.0 - 10.0 * SQRT2,
    ),
    ("slot", shapely.box(0, 0, 80, 10), (40.0, 5.0), 5.0),
    ("disc", shapely.Point(5, 5).buffer(9.0, quad_segs=64), (5.0, 5.0), 9.0),
    (
        "ring",
        shapely.Point(0, 0).buffer(20, quad_segs=64) - shapely.Point(0, 0).buffer(12, quad_segs=64),
        None,
        4.0,
    ),
]


@pytest.mark.parametrize(("area", "centre", "radius"), [k[1:] for k in KNOWN])
def test_known_centres(area, centre, radius) -> None:
    pole = visual_centre(area)
    assert pole is not None
    assert pole.radius == pytest.approx(radius, abs=0.01)
    assert radius - 0.05 <= pole.clearance <= radius + 0.01
    if centre is not None:
        assert math.dist(pole.at, centre) < 0.15


def test_the_larger_of_two_panes_is_taken() -> None:
    panes = shapely.union(shapely.box(0, 0, 8, 20), shapely.box(10, 0, 20, 20))
    pole = visual_centre(panes)
    assert pole is not None
    assert pole.at == pytest.approx((15.0, 10.0), abs=0.05)


def test_being_in_the_middle_never_costs_the_lens_its_room() -> None:
    slot = shapely.box(0, 0, 40, 3.0)
    placement = place([opening(1, slot)], around(slot))
    (light,) = placement.lights
    assert light.clearance >= 1.5 - 0.005
    assert light.visible > 0.998


def test_a_glued_piece_is_no_place_for_a_lens() -> None:
    outline = shapely.box(0, 0, 30, 20)
    glued = shapely.box(8, 4, 22, 16)
    placement = place([opening(1, outline, outline - glued)], around(outline))
    (light,) = placement.lights
    assert light.clearance == pytest.approx(4.0, abs=0.05)
    assert not glued.buffer(LIGHT.lens / 2.0).contains(shapely.Point(light.at))


def test_covered_and_too_small_are_told_with_figures() -> None:
    small = shapely.box(0, 0, 20, 2.4)
    shut = shapely.box(40, 0, 50, 10)
    chosen = [opening(1, small), opening(2, shut, shapely.Polygon())]
    placement = place(chosen, shapely.box(-20, -20, 80, 40))
    assert not placement.lights
    narrow, covered = placement.unlit
    assert (narrow.reason, narrow.needed) == ("too-small", 3.0)
    assert narrow.measured == pytest.approx(2.4, abs=0.001)
    assert (covered.reason, covered.measured, covered.at) == ("covered", 0.0, chosen[1].at)


def test_uncut_paper_that_glows_is_lit_too() -> None:
    leaf = shapely.Point(0, 0).buffer(8)
    (light,) = place([opening(3, leaf, through=True)], around(leaf)).lights
    assert (light.number, light.opening) == (3, "w3")


def test_same_input_same_output() -> None:
    areas = [shapely.Point(25 * i, 7 * (i % 3)).buffer(6 + i % 4) for i in range(12)]
    chosen = [opening(i, area) for i, area in enumerate(areas, 1)]
    base = shapely.box(-30, -30, 320, 60)
    first, second = (place(chosen, base, count=2) for _ in range(2))
    assert [repr(light) for light in first.lights] == [repr(light) for light in second.lights]
