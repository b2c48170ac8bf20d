"""Several lights in one opening: darkest point against an exhaustive search; spread by length."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
import shapely
from shapely import affinity

from placement.cards import LIGHT, PROFILE, around, opening, openings, place, shapes_of
from placement.independent import lux
from underlit.placement.counting import count_by_length, length_of, share_out
from underlit.placement.lights import lambertian, lights_fed


def ring(outer: float, inner: float) -> shapely.Geometry:
    middle = shapely.Point(40.0, 40.0)
    return middle.buffer(outer).difference(middle.buffer(inner))


def polygon(*points: tuple[float, float]) -> shapely.Geometry:
    return shapely.Polygon(points)


SLOT = shapely.box(0.0, 0.0, 30.0, 8.0)
ROOM = shapely.box(0.0, 0.0, 20.0, 16.0)
L = polygon((0, 0), (26, 0), (26, 7), (7, 7), (7, 24), (0, 24))
TRIANGLE = polygon((0, 0), (30, 0), (12, 24))
WREATH = ring(16.0, 9.0)
CRESCENT = shapely.Point(20, 20).buffer(16).difference(shapely.Point(27, 20).buffer(13))
CROSS = shapely.union(shapely.box(0, 9, 28, 17), shapely.box(10, 0, 18, 26))
HOURGLASS = polygon((0, 0), (18, 0), (11, 13), (18, 26), (0, 26), (7, 13))
TILTED = affinity.rotate(SLOT, 33.0)
TWO_PANES = shapely.union(shapely.box(0, 0, 10, 12), shapely.box(13, 0, 28, 12))

#: (opening, lights, depth): 20 small cases.
CASES = [
    (SLOT, 4, 2.0),
    (SLOT, 2, 2.0),
    (SLOT, 3, 4.0),
    (ROOM, 4, 4.0),
    (ROOM, 2, 5.0),
    (ROOM, 3, 8.0),
    (L, 2, 3.0),
    (L, 3, 5.0),
    (TRIANGLE, 4, 5.0),
    (TRIANGLE, 2, 4.0),
    (TRIANGLE, 3, 4.0),
    (WREATH, 2, 8.0),
    (WREATH, 3, 5.0),
    (CRESCENT, 2, 4.0),
    (CRESCENT, 3, 3.0),
    (CROSS, 2, 6.0),
    (CROSS, 3, 6.0),
    (HOURGLASS, 2, 3.0),
    (TILTED, 2, 3.0),
    (TWO_PANES, 3, 4.0),
]

#: How many places the exhaustive search tries, by the number of lights.
TRIED = {2: 200, 3: 55, 4: 26}


def places_in(area: shapely.Geometry, about: int) -> np.ndarray:
    """A square grid inside an area, at its own offset."""
    left, top, right, bottom = area.bounds
    step = np.sqrt(area.area / about)
    xs, ys = np.arange(left + step * 0.37, right, step), np.arange(top + step * 0.41, bottom, step)
    points = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    return points[shapely.contains_xy(area, points)]


def judged(area: shapely.Geometry) -> np.ndarray:
    """Points all over an area and its edge, about 0.4 mm apart."""
    edge = shapely.get_coordinates(shapely.segmentize(area.boundary, 0.4))
    return np.concatenate([places_in(area, int(area.area / 0.16)), edge])


def exhaustive(area: shapely.Geometry, n: int, depth: float) -> float:
    """The best darkest point of all sets of n places that let the lens be seen whole."""
    places = places_in(area.buffer(-LIGHT.lens / 2.0), TRIED[n])
    field = lux(places, judged(area), depth)
    sets = np.array(list(itertools.combinations(range(len(places)), n)))
    apart = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1))
    pairs = itertools.combinations(range(n), 2)  # as the tool: bodies side by side
    sets = sets[np.all([apart[sets[:, a], sets[:, b]] >= 5.5 for a, b in pairs], axis=0)]
    chunks = np.array_split(sets, max(1, len(sets) // 200))
    return max(float(field[:, c].sum(axis=2).min(axis=0).max()) for c in chunks)


@pytest.mark.parametrize(("area", "n", "depth"), CASES)
def test_darkest_point_is_as_bright_as_the_best_of_all_sets(area, n, depth) -> None:
    base = around(area, 40.0)
    field = lambertian(depth)
    placement = place([opening(1, area)], base, count=n, illuminance=field)
    assert not placement.unlit
    lenses = np.array([light.at for light in placement.lights])
    assert len(lenses) == n
    darkest = float(lux(lenses, judged(area), depth).sum(axis=1).min())
    assert darkest >= 0.97 * exhaustive(area, n, depth)


def test_one_light_and_one_more_for_each_further_25_mm() -> None:
    assert [count_by_length(mm) for mm in (5, 25, 49.9, 50, 74, 75, 130)] == [1, 1, 1, 2, 2, 3, 5]


@pytest.mark.parametrize(
    ("area", "widest", "length"),
    [
        (shapely.box(0, 0, 60, 10), 5.0, 60.0),
        (affinity.rotate(shapely.box(0, 0, 60, 10), 37.0), 5.0, 60.0),
        (shapely.Point(0, 0).buffer(15.0, quad_segs=64), 15.0, 30.0),
        (ring(20.0, 14.0), 3.0, np.pi * 34.0),
    ],
)
def test_length_is_the_extent_or_the_run(area, widest, length) -> None:
    assert length_of(area, widest) == pytest.approx(length, rel=0.005)


def test_auto_spreads_lights_along_the_opening() -> None:
    slot = shapely.box(0.0, 0.0, 100.0, 10.0)
    placement = place([opening(1, slot)], around(slot), count=None)
    xs = sorted(light.at[0] for light in placement.lights)
    assert len(xs) == 4
    assert np.diff(xs) == pytest.approx([26.6] * 3, abs=1.0)
    assert all(abs(light.at[1] - 5.0) < 0.6 for light in placement.lights)


def test_auto_goes_round_a_wreath() -> None:
    wreath = ring(24.0, 16.0)
    placement = place([opening(1, wreath)], around(wreath), count=None)
    x, y = (np.array([light.at for light in placement.lights]) - 40.0).T
    steps = np.diff(np.sort(np.degrees(np.arctan2(y, x))))
    assert len(x) == 5
    assert steps == pytest.approx([72.0] * 4, abs=6.0)


def test_never_more_than_the_battery_feeds() -> None:
    slots = [shapely.box(0.0, 30.0 * i, 100.0, 30.0 * i + 8.0) for i in range(3)]
    base = around(shapely.union_all(slots))
    for most, each, dark in ((12, [4, 4, 4], 0), (7, [3, 2, 2], 0), (2, [1, 1, 0], 1)):
        placement = place(openings(*slots), base, count=None, most=most)
        names = [light.opening for light in placement.lights]
        assert [names.count(f"w{i}") for i in (1, 2, 3)] == each
        assert [(u.opening, u.reason) for u in placement.unlit] == [("w3", "battery")] * dark


def test_share_out_gives_first_to_the_longest() -> None:
    assert share_out([100.0, 50.0, 20.0], None) == [4, 2, 1]
    assert share_out([50.0, 100.0, 20.0], 4) == [1, 2, 1]
    assert share_out([50.0, 100.0], 0) == [0, 0]


def test_what_a_battery_feeds_by_hand() -> None:
    """3.0 V - 2.4978 V (0.5 mA through the diode and its 26.25 ohm) over 60 ohm: 16 x 0.5 mA."""
    assert lights_fed(PROFILE.cells["cr2032"], LIGHT, 0.5) == 16
    assert lights_fed(PROFILE.cells["cr1220"], LIGHT, 0.5) == 6
    assert lights_fed(PROFILE.cells["cr2032"], LIGHT, 20.0) == 0


def test_lux_is_the_cos4_law() -> None:
    places = np.array([[0.0, 0.0], [5.0, 0.0], [0.0, 10.0], [20.0, 0.0]])
    field = lambertian(10.0)(np.zeros((1, 2)), places)[:, 0]
    assert field == pytest.approx([10000.0, 6400.0, 2500.0, 400.0], rel=1e-6)


@pytest.mark.parametrize("wanted", [17, 18, 20, 200])
def test_a_slot_holds_as_many_as_stand_side_by_side(wanted: int) -> None:
    """Lenses on 97 mm, bodies of 5 mm half a millimetre apart: 97 // 5.5 + 1 = 18 rungs."""
    slot = shapely.box(0.0, 0.0, 100.0, 8.0)
    placement = place([opening(1, slot)], around(slot), count=wanted)
    assert len(placement.lights) == min(wanted, 18)
    bodies = [shapes_of(light)["body"] for light in placement.lights]
    assert min(a.distance(b) for a, b in itertools.combinations(bodies, 2)) >= 0.5 - 0.011
    told = [(u.reason, u.measured, u.needed) for u in placement.unlit]
    assert told == ([("fewer", 18, wanted)] if wanted > 18 else [])


def test_what_fits_at_all_fits_when_it_is_asked_for() -> None:
    """However many are asked for, as many stand there as when just those are asked for."""
    disc = shapely.Point(0.0, 0.0).buffer(9.0, quad_segs=32)
    most = len(place([opening(1, disc)], around(disc), count=40).lights)
    assert most >= 4  # two are found where rows are not tried
    for wanted in (most - 1, most, most + 1):
        placement = place([opening(1, disc)], around(disc), count=wanted)
        assert len(placement.lights) == min(wanted, most)
        assert len(placement.unlit) == (wanted > most)


def test_too_many_lights_are_told_once_with_what_keeps_one_more_away() -> None:
    slot = shapely.box(0.0, 0.0, 12.0, 5.0)
    placement = place([opening(1, slot)], around(slot), count=6)
    (dark,) = placement.unlit
    assert (dark.reason, dark.needed) == ("fewer", 6)
    assert dark.measured == len(placement.lights) >= 1
    assert dark.because.reason == "no-room"
    assert dark.because.blocker == "w1"
    assert dark.because.measured < dark.because.needed


def test_the_back_sheet_keeps_one_more_away() -> None:
    slot = shapely.box(0.0, 0.0, 40.0, 4.0)
    base = shapely.box(-1.0, -1.0, 13.0, 5.0)  # room for one light, lying along
    (dark,) = place([opening(1, slot)], base, count=3).unlit
    assert (dark.reason, dark.measured, dark.because.reason) == ("fewer", 1, "no-room")
    (none,) = place([opening(1, slot)], shapely.box(0.0, 0.0, 4.0, 4.0), count=20).unlit
    assert none.reason == "off-base"


def test_a_number_that_nobody_asked_for_is_not_missed() -> None:
    """By its length the slot gets two; the base holds one."""
    slot = shapely.box(0.0, 0.0, 60.0, 4.0)
    base = shapely.box(-1.0, -1.0, 13.0, 5.0)
    placement = place([opening(1, slot)], base, count=None)
    assert len(placement.lights) == 1
    assert placement.unlit == ()


def test_a_window_in_two_parts_takes_rows_of_lights_in_both() -> None:
    """Foam over the middle of a wide window: no row runs where nothing is open."""
    window = shapely.box(0.0, 0.0, 120.0, 60.0)
    clear = window.difference(shapely.box(14.0, -1.0, 106.0, 61.0))
    lights = place([opening(1, window, clear)], around(window), count=40).lights
    assert len(lights) >= 20
    assert all(clear.covers(shapes_of(light)["lens"].buffer(-0.1)) for light in lights)
    assert {light.at[0] < 60.0 for light in lights} == {True, False}


def test_without_a_back_sheet_that_is_what_is_missing() -> None:
    placement = place([opening(1, ROOM)], shapely.Polygon())
    assert placement.lights == ()
    assert [one.reason for one in placement.unlit] == ["no-base"]
