"""The pixels against closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest

from kit.shapes import Circle, Line, Poly, box, moved, rect, stroke_outline, turn
from oracle import raster


@pytest.mark.parametrize("angle", [0.0, 17.0, 45.0, 90.0, 211.0])
def test_area_of_a_turned_rectangle(angle):
    assert raster.mask_of([moved(rect(0, 0, 20, 5), turn(angle))]).area == pytest.approx(
        100.0, abs=0.6
    )


def test_area_of_a_disc():
    assert raster.mask_of([Circle((3.3, -2.1), 6.0)]).area == pytest.approx(36 * math.pi, abs=0.3)


def test_a_hole_is_not_painted():
    ring = Poly(box(0, 0, 20, 10).points, (box(5, 3, 8, 6).points,))
    assert raster.mask_of([ring]).area == pytest.approx(200 - 9, abs=0.1)


def test_a_mitred_corner_fills_the_square():
    bent = Line(((0, 0), (20, 0), (20, 30)), 4.0)
    assert raster.mask_of([bent]).area == pytest.approx(4 * 22 + 4 * 28, abs=0.2)


@pytest.mark.parametrize("bend", [20.0, 75.0, 120.0, 151.0])
def test_the_stroke_as_pieces_is_the_stroke_as_a_ring(bend):
    a = math.radians(bend)
    line = Line(((0, 0), (30, 0), (30 + 30 * math.cos(a), 30 * math.sin(a))), 4.0)
    whole = raster.mask_of([line])
    # the ring winds once around a bend's inner corner: compare where nothing overlaps itself
    ring = raster.mask_of([Poly(stroke_outline(line))])
    assert raster.without(ring, whole).area < 0.2
    assert raster.without(whole, ring).area < 0.2


def test_a_sharp_corner_is_cut_off_beyond_the_mitre_limit():
    sharp = Line(((0, 0), (30, 0), (0, 6)), 4.0)  # mitre would be 5.1 times the halved width
    right = raster.mask_of([sharp]).bounds[2] * raster.STEP
    assert 30.0 < right < 33.0


def test_pieces_are_counted_and_ordered():
    m = raster.mask_of([rect(30, 0, 4, 4), rect(0, 0, 4, 4), rect(10, -9, 4, 4)])
    assert [round(raster.centroid(p)[0]) for p in raster.pieces(m)] == [10, 0, 30]


def test_distance_and_tied_middles():
    a, b = raster.mask_of([box(0, 0, 10, 5)]), raster.mask_of([box(4, 7, 8, 9)])
    found = raster.closest(raster.edge_points(a), raster.edge_points(b))
    assert found.distance - raster.STEP == pytest.approx(2.0, abs=0.05)
    assert found.middles[:, 0].min() == pytest.approx(4.0, abs=0.4)
    assert found.middles[:, 0].max() == pytest.approx(8.0, abs=0.4)
    assert found.middles[:, 1] == pytest.approx(np.full(len(found.middles), 6.0), abs=0.06)


def test_distance_to_far_things_is_infinite():
    a, b = raster.mask_of([rect(0, 0, 1, 1)]), raster.mask_of([rect(50, 0, 1, 1)])
    assert raster.closest(raster.edge_points(a), raster.edge_points(b)).distance == math.inf
