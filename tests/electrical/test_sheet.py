"""Sheets of any shape: laws that hold whatever the shape, and meshes that cover it."""

from __future__ import annotations

import random

import numpy as np
import pytest
import shapely
from shapely import affinity
from shapely.geometry import LineString, Point, box
from shapely.geometry.base import BaseGeometry

from underlit.electrical import sheet
from underlit.electrical.layered import solve_layered
from underlit.electrical.sheet import CLOSE, conductances, squares_between, triangulate


def blob(seed: int) -> tuple[BaseGeometry, list[BaseGeometry]]:
    """A wild shape of tape and three places on it."""
    rng = random.Random(seed)
    points = [(rng.uniform(0, 80), rng.uniform(0, 80)) for _ in range(rng.randint(3, 8))]
    shape = LineString(points).buffer(rng.uniform(2, 4), cap_style="flat", join_style="mitre")
    if seed % 2:
        shape = shape.difference(Point(points[1]).buffer(1.0))
    shape = max(shapely.get_parts(shape), key=lambda part: part.area)
    line = shape.intersection(LineString(points).buffer(0.2))
    spots = [line.representative_point(), Point(points[0]), Point(points[-1])]
    return shape, [spot.buffer(1.4).intersection(shape) for spot in spots]


def resistance(table: np.ndarray, i: int, j: int) -> float:
    return float(table[i, i] + table[j, j] - 2.0 * table[i, j])


@pytest.mark.parametrize("seed", range(8))
def test_a_finer_mesh_says_the_same(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    shape, places = blob(seed)
    coarse = squares_between(shape, places)
    monkeypatch.setattr(sheet, "FINE", 0.28)
    monkeypatch.setattr(sheet, "MOST", 3000.0)
    fine = squares_between(shape, places)
    for i, j in ((0, 1), (1, 2), (0, 2)):
        assert resistance(coarse, i, j) == pytest.approx(resistance(fine, i, j), rel=0.02, abs=0.02)


@pytest.mark.parametrize("seed", range(12))
def test_meshes_cover_the_shape_exactly(seed: int) -> None:
    shape, places = blob(seed)
    mesh = triangulate(shape, places)
    triangles = shapely.polygons(mesh.points[mesh.corners])
    assert shapely.area(triangles).sum() == pytest.approx(shape.area, rel=5e-3)
    assert shapely.area(triangles).min() > 0.0
    assert shapely.union_all(triangles).symmetric_difference(shape).area < 5e-3 * shape.area


@pytest.mark.parametrize("seed", range(6))
def test_squares_know_no_scale_and_no_direction(seed: int) -> None:
    shape, places = blob(seed)
    plain = squares_between(shape, places)
    for change in (
        lambda g: affinity.scale(g, 3.0, 3.0, origin=(0, 0)),
        lambda g: affinity.rotate(g, 77.0, origin=(0, 0)),
    ):
        changed = squares_between(change(shape), [change(p) for p in places])
        for i, j in ((0, 1), (1, 2), (0, 2)):
            assert resistance(changed, i, j) == pytest.approx(
                resistance(plain, i, j), rel=0.02, abs=0.02
            )


@pytest.mark.parametrize("hole", [0.5, 1.0, 2.0])
def test_what_is_cut_away_never_conducts_better(hole: float) -> None:
    """Rayleigh's law."""
    whole = box(0, 0, 60, 6)
    places = [box(0, 0, 5, 6), box(55, 0, 60, 6)]
    cut = whole.difference(Point(30, 3).buffer(hole))
    found = [resistance(squares_between(shape, places), 0, 1) for shape in (whole, cut)]
    assert found[1] > found[0]


def test_a_table_is_symmetric_and_its_conductances_sum_up() -> None:
    shape, places = blob(3)
    table = squares_between(shape, places)
    np.testing.assert_allclose(table, table.T, atol=1e-9)
    between = conductances(table)
    np.testing.assert_allclose(between.sum(axis=1), 0.0, atol=1e-9)
    # the network of conductances gives the resistances of the table back
    laplace = np.linalg.pinv(-between)
    assert resistance(laplace, 0, 1) == pytest.approx(resistance(table, 0, 1), rel=1e-6)


def test_two_contacts_at_one_place_are_joined() -> None:
    place = box(10, 0, 15, 5)
    table = squares_between(box(0, 0, 60, 5), [place, place, box(50, 0, 55, 5)])
    assert resistance(table, 0, 1) == pytest.approx(2 * CLOSE, abs=1e-6)


def test_touches_and_places_beside_the_sheet() -> None:
    shape = box(0, 0, 60, 5)
    table = squares_between(
        shape, [Point(0, 2.5), LineString([(60, 0), (60, 5)]), Point(30, 5.009)]
    )
    assert np.isfinite(table).all()
    assert resistance(table, 0, 1) > 60 / 5 - 1.0


def test_outlines_that_delaunay_cannot_follow_fall_back(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheet, "_delaunay", lambda points, polygon: None)
    table = squares_between(box(0, 0, 60, 5), [box(0, 0, 5, 5), box(55, 0, 60, 5)])
    assert resistance(table, 0, 1) == pytest.approx((55 - 5 / 3) / 5, rel=0.01)


def test_layers_agree_with_a_full_matrix() -> None:
    rng = np.random.default_rng(4)
    ends = np.array([(i, i + 1) for i in range(59)] + [(i, i + 7) for i in range(50)] + [(61, 60)])
    weights = rng.uniform(0.1, 3.0, len(ends))
    leak = np.zeros(62)
    leak[[5, 60]] = 1.0
    loads = rng.normal(size=(62, 3))
    table = np.diag(leak)
    for (a, b), g in zip(ends.tolist(), weights.tolist(), strict=True):
        table[[a, b], [a, b]] += g
        table[[a, b], [b, a]] -= g
    found = solve_layered(62, ends, weights, leak, loads)
    np.testing.assert_allclose(found, np.linalg.solve(table, loads), atol=1e-9)


def test_very_many_places_on_a_vast_sheet() -> None:
    """The mesh stays small; what lies between two of the places comes out within a fifth."""
    sheet = shapely.box(-900.0, -900.0, 1100.0, 1100.0)
    places = [
        shapely.box(x, y, x + 3.0, y + 3.0)
        for x in np.linspace(0.0, 197.0, 17).tolist()
        for y in np.linspace(0.0, 197.0, 17).tolist()
    ]
    assert len(triangulate(sheet, places).points) < 10_000

    def between(table: np.ndarray, i: int, j: int) -> float:
        return float(table[i, i] + table[j, j] - 2.0 * table[i, j])

    few = [0, 8, 288]
    alone = squares_between(sheet, [places[i] for i in few])
    among = squares_between(sheet, places)
    for a, b in ((0, 1), (0, 2), (1, 2)):
        told = between(among, few[a], few[b])
        assert told == pytest.approx(between(alone, a, b), rel=0.2)
