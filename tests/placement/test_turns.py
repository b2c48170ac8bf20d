"""Turns and hand room: rows like rungs, edges, batteries, neighbours, things that are locked."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
import shapely

from placement.cards import LIGHT, PROFILE, around, opening, openings, place, shapes_of
from underlit.placement.lights import Ground, Taken, Tapes, Wish, place_lights
from underlit.placement.room import degrees_of_room
from underlit.placement.turning import across

WIDE = shapely.box(-100.0, -100.0, 300.0, 300.0)
NEED = 4.0  # 5 mm of tape on feet of 3 mm, and a gap of 2


def windows(*places: tuple[float, float], radius: float = 4.0) -> list:
    return openings(*(shapely.Point(place).buffer(radius) for place in places))


def test_the_limits_of_room_stand_in_one_place() -> None:
    aim, limit, tight = degrees_of_room(PROFILE.limits, PROFILE.tape.width, LIGHT)
    assert (aim.feet, aim.part, aim.edge) == (2.0 + 3.0, 1.0 + 3.0, 1.0 + 5.0)
    assert (limit.feet, limit.part, limit.edge) == (NEED, 1.0 + 2.0, 1.0 + 3.0)
    assert (tight.feet, tight.edge) == (NEED, 0.0)
    assert aim.every_foot
    assert not limit.every_foot


@pytest.mark.parametrize(
    ("step", "turn"), [((30.0, 0.0), 270.0), ((0.0, 30.0), 0.0), ((20.0, 20.0), 315.0)]
)
def test_lights_in_a_row_stand_across_it_with_plus_on_one_side(step, turn) -> None:
    row = windows(*((step[0] * i, step[1] * i) for i in range(5)))
    turns = [light.angle_deg for light in place(row, WIDE).lights]
    assert turns == [turn] * 5


def test_a_row_at_an_odd_angle_keeps_it_and_other_lights_do_not() -> None:
    row = windows(*((26.0 * i, 15.0 * i) for i in range(5)))  # runs down at 30 degrees
    assert [light.angle_deg for light in place(row, WIDE).lights] == [300.0] * 5
    pair = windows((0.0, 0.0), (52.0, 30.0))
    assert [light.angle_deg for light in place(pair, WIDE).lights] == [315.0] * 2
    rng = np.random.default_rng(4)
    strewn = windows(*(tuple(rng.uniform(0.0, 200.0, 2)) for _ in range(25)))
    turns = np.array([light.angle_deg for light in place(strewn, WIDE).lights])
    assert (turns % 45.0 == 0.0).mean() >= 0.8


def tapes(plus=None, minus=None, unknown=None) -> Tapes:
    none = shapely.MultiPolygon()
    return Tapes(plus or none, minus or none, unknown or none)


def upright(x: float, width: float = 5.0) -> shapely.Geometry:
    return shapely.box(x - width / 2.0, -80.0, x + width / 2.0, 80.0)


def on(laid: Tapes, **wish):
    """The light in a round window over tape that is there."""
    chosen = windows((0.0, 0.0), radius=12.0)
    ground = Ground(WIDE, (), tuple(chosen), laid)
    found = place_lights(
        chosen, ground, Wish("warm-white", LIGHT, **wish), PROFILE.limits, PROFILE.tape.width
    )
    (light,) = found.lights
    return light


def test_feet_keep_to_tape_of_their_own_side() -> None:
    """Plus left and minus right: the light lies level, plus to the left, on both."""
    light = on(tapes(upright(-5.0), upright(5.0)))
    assert (light.at, light.angle_deg, light.across) == (approx_zero(), 180.0, False)
    light = on(tapes(upright(5.0), upright(-5.0)))
    assert (light.at, light.angle_deg) == (approx_zero(), 0.0)


def approx_zero():
    return pytest.approx((0.0, 0.0), abs=0.05)


def test_a_light_keeps_off_tape_that_leads_nowhere() -> None:
    light = on(tapes(unknown=upright(0.0)))
    assert not light.across
    assert shapes_of(light)["body"].distance(upright(0.0)) > 0.0
    assert light.visible > 0.99


def test_a_light_that_cannot_keep_off_tape_says_so() -> None:
    for laid in (tapes(unknown=upright(0.0, 60.0)), tapes(plus=upright(0.0, 60.0))):
        light = on(laid)
        assert (light.at, light.across) == (approx_zero(), True)
    fixed = on(tapes(upright(5.0), upright(-5.0)), turn=180.0)
    assert not fixed.across  # it moves aside instead
    assert shapes_of(fixed)["minus"].distance(upright(5.0)) >= 1.0 - 0.011


def test_a_light_alone_lies_level() -> None:
    (light,) = place(windows((0.0, 0.0)), WIDE).lights
    assert light.angle_deg == 0.0


def test_across_a_row() -> None:
    places = np.array([[0.0, 0.0], [10.0, 0.0], [20.0, 1.0], [500.0, 0.0]])
    assert across(places, 1) == pytest.approx(90.0, abs=4.0)
    assert across(places, 3) is None
    assert across(places[:1], 0) is None


@pytest.mark.parametrize("turn", ["45", 0.0, 30.0, 123.4])
def test_turns_keep_to_the_wish(turn) -> None:
    lights = place(windows((0.0, 0.0), (31.0, 5.0), (60.0, 22.0)), WIDE, turn=turn).lights
    for light in lights:
        if turn == "45":
            assert light.angle_deg % 45.0 == 0.0
        else:
            assert light.angle_deg == turn


def test_the_body_turns_to_stay_on_the_base() -> None:
    (chosen,) = windows((0.0, 0.0))
    narrow = shapely.box(-4.0, -40.0, 4.0, 40.0)
    (light,) = place([chosen], narrow).lights
    assert light.angle_deg in (90.0, 270.0)
    assert narrow.buffer(1e-9).covers(shapes_of(light)["body"])
    (dark,) = place([chosen], narrow, turn=0.0).unlit
    assert dark.reason == "off-base"
    assert dark.measured == pytest.approx(2.0, abs=1e-6)  # half of 12 mm, less 4


def test_near_the_edge_the_next_best_place_is_taken() -> None:
    slot = shapely.box(0.0, 0.0, 40.0, 12.0)
    base = shapely.box(24.0, -20.0, 80.0, 40.0)  # the visual centre (20, 6) is off the base
    (light,) = place([opening(1, slot)], base).lights
    assert base.covers(shapes_of(light)["body"])
    assert light.visible > 0.995
    assert light.clearance > 4.0


def test_a_window_off_the_base_is_told() -> None:
    (dark,) = place(windows((0.0, 0.0)), shapely.box(50.0, -50.0, 100.0, 50.0)).unlit
    assert dark.reason == "off-base"
    assert dark.measured > 40.0


def test_a_battery_keeps_its_ring() -> None:
    ring = Taken("battery", shapely.Point(14.0, 0.0).buffer(13.0))
    (chosen,) = windows((0.0, 0.0), radius=8.0)
    (light,) = place([chosen], WIDE, [ring]).lights
    shapes = shapes_of(light)
    assert shapes["body"].distance(ring.area) >= 0.5 - 0.011
    whole = Taken("battery", shapely.Point(0.0, 0.0).buffer(30.0))
    (dark,) = place([chosen], WIDE, [whole]).unlit
    assert (dark.reason, dark.blocker, dark.measured) == ("no-room", "battery", 0.0)


def test_feet_keep_room_for_tape_to_lights_that_lie_there() -> None:
    there = place(windows((0.0, 0.0)), WIDE, turn=0.0).lights[0]
    shapes = shapes_of(there)
    taken = Taken("lamp", shapes["body"], shapes["plus"], shapes["minus"])
    for gap in (9.0, 11.0, 13.0, 16.0):
        (light,) = place(windows((gap, 0.0)), WIDE, [taken]).lights
        new = shapes_of(light)
        assert new["body"].distance(shapes["body"]) >= 0.5 - 0.011
        for one, other in (("plus", "minus"), ("minus", "plus")):
            assert new[one].distance(shapes[other]) >= NEED - 0.011


def test_fixed_turns_that_leave_no_room_are_told() -> None:
    """Feet of opposite polarity 13 - 8 - 3 = 2 mm apart, end to end."""
    placement = place(windows((0.0, 0.0), (13.0, 0.0), radius=1.55), WIDE, turn=0.0)
    assert len(placement.lights) == 1
    (dark,) = placement.unlit
    assert (dark.reason, dark.needed) == ("no-room", NEED)
    assert dark.measured == pytest.approx(2.0, abs=0.02)
    assert dark.blocker in {"w1", "w2"}
    assert len(place(windows((0.0, 0.0), (13.0, 0.0)), WIDE).lights) == 2


def test_turns_are_found_together_where_one_after_another_fails() -> None:
    """A cross of windows 8.5 mm apart round a middle one."""
    cross = windows((0, 0), (8.5, 0), (-8.5, 0), (0, 8.5), (0, -8.5), radius=2.0)
    placement = place(cross, WIDE)
    drawn = [shapes_of(light) for light in placement.lights]
    for a, b in itertools.combinations(drawn, 2):
        assert a["body"].distance(b["body"]) >= 0.5 - 0.011
    assert len(placement.lights) + len(placement.unlit) == 5


def test_tape_does_not_land_in_a_foreign_window() -> None:
    near = [shapely.Point(0, 0).buffer(4), shapely.box(5.0, -10.0, 15.0, 10.0)]
    chosen = openings(*near)
    (light,) = place(chosen[:1], WIDE, every=chosen).lights
    shapes = shapes_of(light)
    assert shapes["plus"].intersection(near[1]).area == 0.0
    assert shapes["minus"].intersection(near[1]).area == 0.0


def test_all_four_profiles_and_types_work() -> None:
    from underlit.profiles import load_profile, shipped_names

    for name in shipped_names():
        profile = load_profile(name, {}, None)
        for kind in profile.lights:
            found = place(windows((0, 0), (30, 0)), WIDE, profile=profile, kind=kind)
            assert [light.kind for light in found.lights] == [kind, kind]


def test_one_that_is_crowded_out_goes_first() -> None:
    slot = shapely.box(-20.0, -2.0, 20.0, 2.0)
    hole = shapely.Point(0.0, 5.6).buffer(1.6)
    placement = place(openings(slot, hole), around(slot), turn=0.0)
    assert [light.opening for light in placement.lights] == ["w1", "w2"]
