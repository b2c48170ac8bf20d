"""Batteries on seeded random cards: whatever is placed obeys every limit, judged by distances."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
import shapely.affinity
from shapely.geometry import Point, box

from placement.grounds import (
    SLACK,
    bare,
    faults,
    foam,
    gap,
    ground,
    holder,
    on_page,
    random_ground,
)
from underlit.placement.power import place_power
from underlit.placement.power_data import Ground, NoPlace, PowerPlace, Wish
from underlit.profiles import load_profile
from underlit.stack import cheapest

PROFILE = load_profile(None)
PANEL = box(0.0, 0.0, 105.0, 148.0)

WISHES = {
    "press": bare("press", tab=True),
    "press, no tab": bare("press"),
    "slide": bare("slide"),
    "flap": bare("flap", tab=True),
    "flap, minus up": bare("flap", up="minus"),
    "tab": bare("tab", tab=True),
    "small, open": bare("open", radius=6.25),
    "holder, press": holder("press", tab=True),
    "holder, always": holder("always"),
    "holder, tab": holder("tab", tab=True),
}


@pytest.mark.parametrize("kind", WISHES)
def test_whatever_is_placed_obeys_every_limit(kind: str) -> None:
    wish = WISHES[kind]
    rng = np.random.default_rng([5, *map(ord, kind)])
    placed = 0
    for _ in range(16):
        card = random_ground(rng)
        x0, y0, x1, y1 = card.panel.bounds
        at = (float(rng.uniform(x0, x1)), float(rng.uniform(y0, y1)))
        first = place_power(wish, card, PROFILE, at)
        if isinstance(first, NoPlace):
            assert first.reasons
            if first.nearest is None:
                continue
            first = place_power(wish, card, PROFILE, first.nearest)
            assert isinstance(first, PowerPlace), "the nearest place does not fit either"
        else:
            assert first.at == at
        assert faults(first, wish, card) == []
        placed += 1
    assert placed >= 4


@pytest.mark.parametrize("kind", ["press, no tab", "slide", "holder, always"])
def test_no_place_of_a_fine_grid_is_nearer(kind: str) -> None:
    wish = WISHES[kind]
    rng = np.random.default_rng([7, *map(ord, kind)])
    compared = 0
    for _ in range(12):
        card = random_ground(rng)
        at = (card.panel.centroid.x, card.panel.centroid.y)
        tried = place_power(wish, card, PROFILE, at)
        if isinstance(tried, PowerPlace):
            continue
        x0, y0, x1, y1 = card.panel.bounds
        spots = np.stack(np.meshgrid(np.arange(x0, x1, 2.0), np.arange(y0, y1, 2.0)), -1)
        spots = spots.reshape(-1, 2)
        far = np.hypot(*(spots - np.array(at)).T)
        reach = np.inf if tried.nearest is None else np.hypot(*np.subtract(tried.nearest, at))
        fits = [roomy(wish, card, (x, y)) for x, y in spots[far < reach - 0.1].tolist()]
        assert not any(fits)
        compared += 1
    assert compared >= 3


@pytest.mark.parametrize("kind", WISHES)
def test_the_nearest_place_can_be_typed_back(kind: str) -> None:
    """On cards whose edges are askew, so that no limit falls on a round figure."""
    wish = WISHES[kind]
    rng = np.random.default_rng([11, *map(ord, kind)])
    told = 0
    for _ in range(10):
        angle = float(rng.uniform(5.0, 40.0))
        panel = shapely.affinity.rotate(PANEL, angle, origin=(50.0, 70.0))
        hole = shapely.affinity.rotate(box(40.0, 60.0, 65.0, 75.0), angle)
        tried = place_power(wish, ground(panel, [hole]), PROFILE, (52.5, 67.5))
        assert isinstance(tried, NoPlace)
        if tried.nearest is None:
            continue
        x, y = (float(f"{value:.2f}") for value in tried.nearest)
        assert (x, y) == tried.nearest
        again = place_power(wish, ground(panel, [hole]), PROFILE, (x, y))
        assert isinstance(again, PowerPlace)
        told += 1
    assert told >= 4


def roomy(wish: Wish, card: Ground, at: tuple[float, float]) -> bool:
    """Whether a battery fits by distances alone, in any of the four turns."""
    if wish.closes == "press":
        return by_distances(wish, card, at)
    for angle in (0.0,) if wish.bare else (0.0, 45.0, 90.0, 135.0):
        place = PowerPlace(at, angle, None, None, None, None)
        parts = [on_page(area, place) for area in (wish.body, *wish.pads.values())]
        whole = shapely.convex_hull(shapely.union_all(parts))
        wide = Point(*at).buffer(wish.collar, 48) if wish.bare else whole
        if (
            gap(whole, card, "base") >= 3.0 + SLACK
            and card.panel.contains(whole)
            and gap(wide, card, "windows") >= 1.0 + SLACK
            and gap(wide, card, "lights") >= (SLACK if wish.bare else 2.0 + SLACK)
            and (wish.closes != "slide" or gap(whole, card, "foam") >= SLACK)
        ):
            return True
    return False


def by_distances(wish: Wish, card: Ground, at: tuple[float, float]) -> bool:
    """Whether a bare press fits, by the conventions alone (rings of 25 mm, 4.5 mm wide)."""
    disc = Point(*at).buffer((12.5 + 4.5 + 5.0), 64)
    small = Point(*at).buffer(12.5 + 4.5, 64)
    return (
        card.panel.contains(disc)
        and card.base.contains(small)
        and not any(o.outline.intersects(disc) for o in card.openings)
        and all(light.body.distance(small) >= 1.0 for light in card.lights)
        and not any(s.geometry.intersects(small) for s in card.foam)
    )


def test_a_press_is_refused_only_where_there_is_no_room() -> None:
    wish = WISHES["press, no tab"]
    rng = np.random.default_rng(11)
    seen = {True: 0, False: 0}
    for _ in range(80):
        card = random_ground(rng)
        x0, y0, x1, y1 = card.panel.bounds
        at = (float(rng.uniform(x0, x1)), float(rng.uniform(y0, y1)))
        room = by_distances(wish, card, at)
        assert isinstance(place_power(wish, card, PROFILE, at), PowerPlace) == room
        seen[room] += 1
    assert min(seen.values()) >= 8


def test_the_judge_sees_faults() -> None:
    """Each limit broken on purpose, so that an empty list means something."""
    card = ground(PANEL, [box(40, 30, 60, 50)], base=PANEL.buffer(-1.6, join_style="mitre"))
    wish = bare("press", tab=True)
    good = place_power(wish, card, PROFILE, (52.5, 105.0))
    assert isinstance(good, PowerPlace)
    assert faults(good, wish, card) == []
    assert faults(replace(good, at=(52.5, 62.0)), wish, card)
    assert faults(replace(good, ring=None), wish, card)
    assert faults(replace(good, ring=replace(good.ring, travel=0.2)), wish, card)
    assert faults(replace(good, tab=replace(good.tab, length=good.tab.length - 1.0)), wish, card)
    assert faults(replace(good, tab=replace(good.tab, width=7.0)), wish, card)
    assert faults(replace(good, collar=good.collar.buffer(-1.5)), wish, card)
    flap = bare("flap")
    folded = place_power(flap, card, PROFILE, (52.5, 100.0))
    assert isinstance(folded, PowerPlace)
    assert faults(folded, flap, card) == []
    off = (folded.fold.contact[0] + 1.0, folded.fold.contact[1])
    assert faults(replace(folded, fold=replace(folded.fold, contact=off)), flap, card)


def test_the_ring_follows_room_and_holder() -> None:
    wide = place_power(bare("press"), ground(PANEL), PROFILE, (52.5, 74.0))
    assert isinstance(wide, PowerPlace)
    assert (wide.ring.inside, wide.ring.outside) == (26.0, 35.0)
    window = box(0.0, 0.0, 105.0, 74.0 - 22.1).intersection(box(40, 10, 65, 100))
    narrow = place_power(bare("press"), ground(PANEL, [window]), PROFILE, (52.5, 74.0))
    assert isinstance(narrow, PowerPlace)
    assert narrow.ring.inside == 25.0
    large = place_power(holder("press"), ground(PANEL), PROFILE, (52.5, 74.0))
    assert isinstance(large, PowerPlace)
    corner = 2.0 * np.hypot(14.0, 10.5) + 2.0
    assert large.ring.inside == pytest.approx(corner, abs=1e-9)


def test_reasons_name_the_window_with_figures() -> None:
    card = ground(PANEL, [box(5, 5, 20, 20), box(40, 90, 65, 100)])
    tried = place_power(bare("press"), card, PROFILE, (52.5, 79.0))
    assert isinstance(tried, NoPlace)
    assert tried.reasons == (
        "The press ring would reach 6 mm into window 2; it must keep 5 mm clear.",
    )
    near = place_power(bare("press"), card, PROFILE, (52.5, 70.0))
    assert isinstance(near, NoPlace)
    assert near.reasons == ("The press ring would be 3 mm from window 2, and 5 mm are needed.",)
    assert near.nearest == pytest.approx((52.5, 68.0), abs=0.02)


def test_light_and_edge_are_named_too() -> None:
    card = ground(PANEL, [], [box(30, 60, 42, 65)])
    tried = place_power(bare("slide"), card, PROFILE, (44.0, 62.0))
    assert isinstance(tried, NoPlace)
    assert "light 1" in tried.reasons[0]
    edge = place_power(bare("slide"), card, PROFILE, (11.0, 130.0))
    assert isinstance(edge, NoPlace)
    words = "The battery would be 1 mm from the back sheet's edge, and 3 mm are needed."
    assert edge.reasons == (words,)


def test_outside_the_panel_the_way_back_is_shown() -> None:
    tried = place_power(bare("slide"), ground(PANEL), PROFILE, (52.5, 200.0))
    assert isinstance(tried, NoPlace)
    assert tried.nearest == pytest.approx((52.5, 135.0), abs=0.02)


def test_nowhere_is_said_too() -> None:
    tiny = ground(box(0, 0, 30, 30))
    tried = place_power(bare("press"), tiny, PROFILE, (15.0, 15.0))
    assert isinstance(tried, NoPlace)
    assert tried.nearest is None


def test_a_tab_goes_round_windows_joints_and_folds() -> None:
    wish = bare("tab", tab=True)
    free = place_power(wish, ground(PANEL), PROFILE, (52.5, 110.0))
    assert isinstance(free, PowerPlace)
    assert free.tab.angle == 90.0
    below = box(30.0, 130.0, 75.0, 133.0)
    for card in (
        ground(PANEL, [below]),
        ground(PANEL, joints=below),
        ground(PANEL, folds=shapely.LineString([(0, 131), (105, 131)])),
        ground(PANEL, [], [below]),
    ):
        place = place_power(wish, card, PROFILE, (52.5, 110.0))
        assert isinstance(place, PowerPlace)
        assert place.tab.area.distance(below) >= 1.0 - SLACK
        assert faults(place, wish, card) == []


def test_foam_is_passed_only_where_there_is_no_other_way() -> None:
    wish = bare("tab", tab=True)
    bar = foam("bar", box(0, 140, 105, 144))
    around = place_power(wish, ground(PANEL, foam=(bar,)), PROFILE, (52.5, 110.0))
    assert isinstance(around, PowerPlace)
    assert around.tab.foam == ()
    frame = foam("frame", PANEL.difference(PANEL.buffer(-5.0)))
    through = place_power(wish, ground(PANEL, foam=(frame,)), PROFILE, (52.5, 110.0))
    assert isinstance(through, PowerPlace)
    assert through.tab.foam == ("frame",)


def test_a_tab_that_cannot_be_is_a_reason_only_where_it_closes() -> None:
    wall = PANEL.buffer(-30.0).boundary.buffer(1.0)
    card = ground(PANEL, joints=wall)
    place = place_power(bare("open", tab=True), card, PROFILE, (52.5, 74.0))
    assert isinstance(place, PowerPlace)
    assert place.tab is None
    tried = place_power(bare("tab", tab=True), card, PROFILE, (52.5, 74.0))
    assert isinstance(tried, NoPlace)
    assert tried.reasons[0].startswith("A pull tab 10 mm wide finds no straight way")
    assert tried.nearest is not None
    there = place_power(bare("tab", tab=True), card, PROFILE, tried.nearest)
    assert isinstance(there, PowerPlace)


def test_the_tab_covers_the_face_that_looks_up() -> None:
    for up, pad in (("plus", "positive-pad"), ("minus", "negative-pad")):
        wish = bare("tab", tab=True, up=up)
        place = place_power(wish, ground(PANEL), PROFILE, (52.5, 100.0))
        assert isinstance(place, PowerPlace)
        assert place.tab.area.buffer(0.01).covers(on_page(wish.pads[pad], place))


def test_no_foam_thick_enough_is_said() -> None:
    own = load_profile(None, {"press": {"most-layers": 1.0}})
    wish = replace(holder("press"), foam=cheapest(5.0, 5.0, own))
    tried = place_power(wish, ground(PANEL), own, (52.5, 74.0))
    assert isinstance(tried, NoPlace)
    assert tried.nearest is None
    assert tried.reasons == (
        "None of your foams, in up to 1 layers, leaves the panel 0.3 to 1.5 mm above a battery "
        "5 mm high.",
    )


def test_same_card_same_place() -> None:
    card = random_ground(np.random.default_rng(3))
    wish = bare("flap", tab=True)
    one = place_power(wish, card, PROFILE, (50.0, 50.0))
    other = place_power(wish, card, PROFILE, (50.0, 50.0))
    assert repr(one) == repr(other)
