"""Flaps: what moves, and where it lands."""

from __future__ import annotations

import pytest
import shapely
from shapely.geometry import Point, box

from rules.cards import bare_cell, bench, fold
from underlit.connectivity.folding import flaps_of, mirror
from underlit.model.card import Card, Fold


def flap_card(*folds: Fold, **values: object) -> Card:
    return bench(cells=(bare_cell("battery", (75, 55), plus=(0, 20)),), folds=folds, **values)


def test_the_piece_without_the_battery_moves() -> None:
    (flap,) = flaps_of(flap_card(fold("f", ((0, 66), (100, 66)), cell="battery")))
    assert flap.moving.bounds == pytest.approx((0, 66, 100, 80), abs=1e-5)
    assert flap.land(Point(75, 75)).equals_exact(Point(75, 57), 1e-6)


def test_the_order_of_drawing_the_line_does_not_matter() -> None:
    (flap,) = flaps_of(flap_card(fold("f", ((100, 66), (0, 66)), cell="battery")))
    assert flap.moving.bounds == pytest.approx((0, 66, 100, 80), abs=1e-5)


def test_a_line_that_stops_just_short_of_the_edge_still_cuts() -> None:
    (flap,) = flaps_of(flap_card(fold("f", ((0.8, 66), (99.2, 66)), cell="battery")))
    assert flap.moving.area == pytest.approx(1400, abs=0.01)


def test_only_the_piece_on_the_line_moves() -> None:
    """A base with a bay: the line cuts off one tongue, the other stays."""
    base = box(0, 0, 100, 80).difference(box(40, 60, 60, 80))
    of = flap_card(fold("f", ((60, 66), (100, 66)), cell="battery"), base=base)
    (flap,) = flaps_of(of)
    assert flap.moving.bounds == pytest.approx((60, 66, 100, 80), abs=1e-5)


@pytest.mark.parametrize(
    "line",
    [
        fold("f", ((0, 66), (100, 66))),
        fold("f", ((0, 66), (100, 66)), cell="nobody"),
        fold("f", ((0, 200), (100, 200)), cell="battery"),
    ],
)
def test_what_is_no_flap(line: Fold) -> None:
    assert flaps_of(flap_card(line)) == ()


def test_a_slanting_line_mirrors() -> None:
    land = mirror(shapely.LineString([(0, 0), (10, 10)]))
    assert land(Point(7, 2)).equals_exact(Point(2, 7), 1e-9)
