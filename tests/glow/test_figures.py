"""Figures per opening against closed forms."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from shapely.geometry import Point, box

from rules.cards import bench, card, light, opening, profile, sheet, window
from underlit.glow.field import illuminance
from underlit.glow.figures import window_glow
from underlit.glow.panes import layers_of, panes_of
from underlit.glow.sources import Sources, chosen, depth_of, sources_of, within_reach
from underlit.model.card import Card, Opening
from underlit.model.glow import WindowGlow

AT = (20.0, 24.0)
Z = 5.0


def lit(of: Card, depth: float = Z, **currents: float) -> Sources:
    """All lights of a card, burning with 20 mA unless named."""
    flow = {one.id: currents.get(one.id.replace("-", "_"), 20.0) for one in of.lights}
    return sources_of(of, [one.id for one in of.lights], profile(), depth, flow)


def lonely(area: Opening, **more: object) -> Card:
    return card(openings=(area,), lights=(light("light-1", AT),), **more)


def figures(of: Card, depth: float = Z) -> WindowGlow:
    return window_glow(of, 0, lit(of, depth), layers_of(of, profile()))


@pytest.mark.parametrize("radius", [2.0, 5.0, 15.0])
def test_a_round_window_over_one_light(radius: float) -> None:
    """I0 = 0.2 cd: middle I0 / z^2; edge by the cos^4 law; mean over the disc I0 / (z^2 + R^2)."""
    found = figures(lonely(opening(1, AT, radius)))
    middle = 0.2e6 / Z**2
    edge = (Z**2 / (Z**2 + radius**2)) ** 2
    assert found.brightest == pytest.approx(middle, rel=1e-9)
    assert found.darkest == pytest.approx(middle * edge, rel=1e-6)
    assert found.evenness == pytest.approx(edge, rel=1e-6)
    assert found.mean == pytest.approx(0.2e6 / (Z**2 + radius**2), rel=5e-3)
    assert found.at == pytest.approx(AT)
    assert found.lights == ("light-1",)


@pytest.mark.parametrize("depth", [1.0, 3.0, 5.0])
def test_hot_spot_of_one_light(depth: float) -> None:
    """Half value at x / z = 0.64359 (reference values 4)."""
    found = figures(lonely(opening(1, AT, 20.0)), depth)
    assert found.hot_spot == pytest.approx(2 * 0.64359 * depth, rel=0.01)


def test_a_small_window_is_one_hot_spot() -> None:
    assert figures(lonely(opening(1, AT, 2.0))).hot_spot == pytest.approx(4.0, rel=0.01)


def test_two_lights_far_apart_are_two_spots() -> None:
    """The spot is that of one of them, not both together."""
    wide = window(1, box(0, 0, 80, 40))
    both = card(openings=(wide,), lights=(light("a", (20, 20)), light("b", (60, 20))))
    assert figures(both, 3.0).hot_spot == pytest.approx(2 * 0.64359 * 3.0, rel=0.02)


def test_two_lights_that_merge_share_their_spot() -> None:
    near = card(
        openings=(window(1, box(0, 0, 40, 40)),),
        lights=(light("a", (19, 20)), light("b", (21, 20))),
    )
    whole = figures(near, 5.0).hot_spot
    assert whole == pytest.approx(2 * 0.64359 * 5.0 / math.sqrt(2), rel=0.08)


def test_light_goes_with_current_and_candela_with_type() -> None:
    one = lonely(opening(1, AT, 3.0))
    half = sources_of(one, ["light-1"], profile(), Z, {"light-1": 10.0})
    assert half.candela == pytest.approx([0.1])
    red = replace(one, lights=(light("light-1", AT, type="red"),))
    assert lit(red).candela == pytest.approx([0.5])
    blue = replace(one, lights=(light("light-1", AT, type="blue"),))
    assert lit(blue).candela == pytest.approx([0.1])  # 0.01 cd at 2 mA


def test_depth_by_the_profile() -> None:
    """What 1 mm of light on 0.1 mm of tape leave; no light stands inside the panel."""
    assert depth_of(profile().lights["red"], profile(), 5.1) == pytest.approx(5.1 - 1.0 - 0.1)
    assert depth_of(profile().lights["red"], profile(), 0.85) == 0.5


@pytest.mark.parametrize(
    "of",
    [
        lonely(opening(1, AT, 3.0), cells=()),
        bench(lights=(light("light-1", AT, shows="edge"),)),
        bench(lights=()),
    ],
)
def test_no_light_without_a_light_that_faces_forward_and_burns(of: Card) -> None:
    burning = [] if not of.cells else [one.id for one in of.lights]
    sources = sources_of(of, burning, profile())
    assert sources.ids == ()
    found = window_glow(of, 0, sources, layers_of(of, profile()))
    assert (found.mean, found.brightest, found.evenness, found.hot_spot) == (0.0, 0.0, None, None)


# ---- sheets --------------------------------------------------------------------------------------

VELLUM = sheet("vellum", "diffuser", box(0, 0, 100, 80))


def test_vellum_takes_its_share() -> None:
    bare = figures(lonely(opening(1, AT, 3.0)))
    soft = figures(lonely(opening(1, AT, 3.0), diffusers=(VELLUM,)))
    assert profile().diffusers["vellum"].transmission == 0.65
    assert soft.mean == pytest.approx(0.65 * bare.mean)
    assert soft.evenness == pytest.approx(bare.evenness)
    assert (bare.soft, soft.soft) == (False, True)
    assert soft.transmission == pytest.approx(0.65)


def test_uncut_paper_takes_nearly_all() -> None:
    found = figures(lonely(opening(1, AT, 3.0, through=True)))
    assert found.brightest == pytest.approx(0.05 * 0.2e6 / Z**2)
    behind = figures(lonely(opening(1, AT, 3.0, through=True), diffusers=(VELLUM,)))
    assert behind.brightest == pytest.approx(0.05 * 0.65 * 0.2e6 / Z**2)


def test_vellum_behind_a_half() -> None:
    half = sheet("vellum", "diffuser", box(0, 0, AT[0], 80))
    of = lonely(opening(1, AT, 3.0), diffusers=(half,))
    panes = panes_of(of.openings[0], layers_of(of, profile()))
    assert [round(pane.transmission, 6) for pane in panes] == [0.65, 1.0]
    assert shapely.area([pane.area for pane in panes]).sum() == pytest.approx(
        of.openings[0].clear.area
    )
    assert figures(of).transmission == pytest.approx(0.825, rel=1e-3)
    assert not figures(of).soft


def test_two_sheets_of_vellum_that_overlap_count_once() -> None:
    more = replace(VELLUM, object="more")
    soft = figures(lonely(opening(1, AT, 3.0), diffusers=(VELLUM, more)))
    assert soft.transmission == pytest.approx(0.65)


def test_what_is_glued_back_keeps_light_back() -> None:
    """`clear` is what stays open: a ring about a glued middle has no light in its middle."""
    disc = Point(AT).buffer(6.0, quad_segs=64)
    ring = disc.difference(Point(AT).buffer(3.0, quad_segs=64))
    found = figures(lonely(window(1, disc, clear=ring)))
    assert found.brightest == pytest.approx(0.2e6 * Z**2 / (Z**2 + 9.0) ** 2, rel=2e-3)
    assert found.lights == ()


def test_an_opening_that_is_closed_altogether_is_dark() -> None:
    disc = Point(AT).buffer(3.0)
    found = figures(lonely(window(1, disc, clear=shapely.Polygon())))
    assert (found.mean, found.transmission, found.evenness) == (0.0, 0.0, None)


def test_some_of_the_sources() -> None:
    of = bench()
    some = chosen(lit(of), [2, 0])
    assert some.ids == ("light-3", "light-1")
    assert some.at[0] == pytest.approx((50.0, 24.0))


def test_far_lights_of_a_crowd_are_left_out_and_do_not_matter() -> None:
    """400 lights 20 mm apart: what is left out is under 3e-4 of full light everywhere."""
    crowd = tuple(light(f"l-{i}", (20.0 * (i % 20), 20.0 * (i // 20))) for i in range(400))
    area = opening(1, (200.0, 200.0), 9.0)
    whole = lit(card(openings=(area,), lights=crowd), 4.1)
    near = within_reach(area.clear.bounds, whole)
    assert 50 < len(near.ids) < 120
    points = shapely.get_coordinates(area.clear)
    gap = illuminance(points, whole) - illuminance(points, near)
    peak = 0.2e6 / 4.1**2
    assert 0.0 < gap.max() < 3e-4 * peak
    few = chosen(whole, range(60))
    assert within_reach(area.clear.bounds, few) is few
