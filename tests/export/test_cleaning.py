"""Corners are rounded and slivers go, and no net, overlap or gap changes by it."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from shapely.affinity import translate
from shapely.geometry import Polygon, box

from rules import cards
from underlit.connectivity import read_circuit
from underlit.export.cleaning import cut_areas, with_areas
from underlit.export.measuring import by_shape, narrow, smallest_feature, smallest_spacing

from .exported import SAMPLES, sample_case


def corners_of(area: Polygon) -> np.ndarray:
    """Sharpest turn at any corner, degrees."""
    ring = shapely.get_coordinates(area.exterior)[:-1]
    into, out = ring - np.roll(ring, 1, 0), np.roll(ring, -1, 0) - ring
    return np.abs(
        np.degrees(
            np.arctan2(into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0], (into * out).sum(axis=1))
        )
    )


def case_of(*things):
    return cards.case(cards.card(base=box(0, 0, 100, 80), base_drawn=True, **cards.tape(things)))


def test_corners_are_rounded_inside_and_outside() -> None:
    bent = cards.strip("a", [(10, 10), (60, 10), (60, 60)])
    (area,) = cut_areas(case_of(bent), 0.5)
    assert corners_of(bent.geometry).max() == pytest.approx(90.0)
    assert corners_of(area).max() <= 31.0
    assert area.hausdorff_distance(bent.geometry) == pytest.approx(0.207, abs=0.02)
    assert area.area == pytest.approx(bent.geometry.area, rel=1e-3)


def test_radius_nothing_leaves_corners() -> None:
    bent = cards.strip("a", [(10, 10), (60, 10), (60, 60)])
    (area,) = cut_areas(case_of(bent), 0.0)
    assert area.equals(bent.geometry)


def test_slivers_and_needless_points_go() -> None:
    body = shapely.segmentize(box(10, 10, 60, 15), 0.5)
    whisker = box(30, 14.9, 30.2, 19)
    (area,) = cut_areas(case_of(cards.cut("a", body.union(whisker))), 0.5)
    assert area.bounds[3] < 15.05
    assert len(area.exterior.coords) < 45 < len(body.exterior.coords)
    assert area.area == pytest.approx(250.0, rel=2e-3)


def test_a_neck_that_holds_a_strip_together_stays() -> None:
    dumbbell = box(10, 10, 30, 15).union(box(30, 12, 40, 12.8)).union(box(40, 10, 60, 15))
    (area,) = cut_areas(case_of(cards.cut("a", dumbbell)), 0.5)
    assert area.geom_type == "Polygon"
    assert area.equals(dumbbell)


def test_strips_that_only_touch_stay_in_touch() -> None:
    first = cards.cut("a", box(10, 10, 40, 15))
    corner = cards.cut("b", box(40, 15, 60, 20))  # a corner on a corner: one contact
    case = case_of(first, corner)
    assert len(case.circuit.contacts) == 1
    areas = cut_areas(case, 0.5)
    after = read_circuit(with_areas(case.card, areas), True)
    assert [(c.upper, c.lower) for c in after.contacts] == [
        (c.upper, c.lower) for c in case.circuit.contacts
    ]


def test_an_overlap_at_its_limit_is_not_made_smaller() -> None:
    case = case_of(
        cards.strip("a", [(10, 10), (40, 10)]), cards.strip("b", [(38, 10), (70, 10)])
    )  # overlap 2 x 5 = 10 mm2: just 0.4 x 5 x 5
    (contact,) = case.circuit.contacts
    assert contact.area == pytest.approx(10.0)
    (after,) = read_circuit(with_areas(case.card, cut_areas(case, 0.5)), True).contacts
    assert after.area >= 10.0 - 0.002


def test_inner_rounding_never_narrows_a_gap() -> None:
    """A corner of minus in the crook of plus: rounding the crook would come nearer."""
    crook = cards.strip("a", [(10, 50), (10, 10), (50, 10)], polarity="positive")
    point = cards.cut("b", Polygon([(13, 13), (30, 14), (14, 30)]), polarity="negative")
    case = case_of(crook, point)
    areas = cut_areas(case, 2.0)
    assert areas[0].distance(areas[1]) >= crook.geometry.distance(point.geometry) - 0.002


@pytest.mark.parametrize("name", SAMPLES)
def test_samples_keep_every_contact_and_gap(name: str) -> None:
    case = sample_case(name)
    areas = cut_areas(case, 0.5)
    after = read_circuit(with_areas(case.card, areas), case.profile.tape.adhesive_conducts)
    assert after.net_of == case.circuit.net_of
    before = [(c.upper, c.lower) for c in case.circuit.contacts]
    assert [(c.upper, c.lower) for c in after.contacts] == before
    drawn = [strip.geometry for strip in case.card.strips]
    for i in range(len(drawn)):
        for j in range(i):
            assert areas[i].distance(areas[j]) >= drawn[i].distance(drawn[j]) - 0.002


def test_measures() -> None:
    neck = box(0, 0, 10, 6).union(box(10, 2, 20, 3.5)).union(box(20, 0, 30, 6))
    assert smallest_feature([neck]) == pytest.approx(1.5, abs=0.01)
    assert smallest_feature([box(0, 0, 30, 4), box(0, 0, 50, 7)]) == pytest.approx(4.0, abs=0.01)
    assert smallest_feature([]) is None
    assert narrow(np.array([neck, box(0, 0, 9, 9)], dtype=object), 1.6).tolist() == [True, False]
    assert smallest_spacing([box(0, 0, 1, 1), box(3.5, 0, 9, 1)]) == pytest.approx(2.5)
    assert smallest_spacing([box(0, 0, 1, 1)]) is None


def test_areas_of_one_shape_are_told_by_it() -> None:
    long, short = box(0, 0, 30, 4), box(0, 0, 20, 4)
    turned = box(0, 0, 4, 30)
    areas = np.array([long, short, translate(long, 7.3, -2.1), turned, short], dtype=object)
    first, same = by_shape(areas)
    assert (first, same) == ([0, 1, 3], [0, 1, 0, 2, 1])
    assert narrow(areas, 4.5).tolist() == [True] * 5


def test_narrow_is_told_for_each_area_of_many() -> None:
    """Referee: the shorter side of a rectangle."""
    sides = [(30, 1.0 + 0.25 * (i % 9)) for i in range(40)]
    areas = np.array([box(i, i, i + a, i + b) for i, (a, b) in enumerate(sides)], dtype=object)
    assert narrow(areas, 2.1).tolist() == [b < 2.1 for _, b in sides]
