"""The picture: light in its pixels, dark paper in the panel's outline, nothing outside."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely.geometry import Point, box

from rules.cards import bench, light, opening, profile, sheet, window
from underlit.glow.display import lux_of
from underlit.glow.field import illuminance
from underlit.glow.picture import Picture, grid_over, lit_card
from underlit.glow.sources import sources_of
from underlit.model.card import Card, Panel

#: A panel with round corners and a notch, off the pixel grid.
PANEL = box(0.37, 0.11, 98.6, 79.3).buffer(-4).buffer(4).difference(box(90, -1, 110, 12))
LIGHTS = (
    light("light-1", (20, 24)),
    light("light-2", (35, 24), type="red"),
    light("light-3", (60, 50), type="blue"),
)
WINDOWS = (
    opening(1, (20, 24), 9.0),
    opening(2, (38, 24), 6.5),
    window(3, box(50, 45, 75, 55)),
    window(4, box(15, 60, 40, 70), through=True),
)
VELLUM = sheet("vellum", "diffuser", box(45, 40, 80, 60))
CARD = bench(panels=(Panel("panel", PANEL),), openings=WINDOWS, lights=LIGHTS, diffusers=(VELLUM,))


def drawn(of: Card, depth: float = 4.1) -> Picture:
    sources = sources_of(of, [one.id for one in of.lights], profile(), depth)
    picture = lit_card(of, sources, profile())
    assert picture is not None
    return picture


def at(picture: Picture, x: float, y: float) -> np.ndarray:
    """The pixel that holds a place."""
    column = int((x - picture.box[0]) / picture.mm_per_pixel[0])
    row = int((y - picture.box[1]) / picture.mm_per_pixel[1])
    return picture.pixels[row, column]


def middle(picture: Picture, x: float, y: float) -> tuple[float, float]:
    """The middle of the pixel that holds a place."""
    (dx, dy), (x0, y0) = picture.mm_per_pixel, picture.box[:2]
    return (x0 + (int((x - x0) / dx) + 0.5) * dx, y0 + (int((y - y0) / dy) + 0.5) * dy)


PICTURE = drawn(CARD)

#: Transmission of each window.
THROUGH = {1: 1.0, 2: 1.0, 3: 0.65, 4: 0.05}


@pytest.mark.parametrize("number", THROUGH)
def test_the_light_can_be_read_back(number: int) -> None:
    """300 places of each window, half a pixel or more inside: within 2 % of full scale."""
    area = CARD.openings[number - 1].clear.buffer(-0.15)
    rng = np.random.default_rng(number)
    x0, y0, x1, y1 = area.bounds
    places = rng.uniform((x0, y0), (x1, y1), (900, 2))
    places = places[shapely.contains_xy(area, places)][:300]
    assert len(places) == 300
    sources = sources_of(CARD, [one.id for one in CARD.lights], profile(), 4.1)
    seen = np.array([at(PICTURE, x, y)[:3] for x, y in places])
    centres = np.array([middle(PICTURE, x, y) for x, y in places])
    wanted = illuminance(centres, sources) * THROUGH[number]
    assert np.abs(lux_of(seen, PICTURE.full) - wanted).max() <= 0.01 * PICTURE.full
    exact = illuminance(places, sources) * THROUGH[number]
    assert np.abs(lux_of(seen, PICTURE.full) - exact).max() <= 0.02 * PICTURE.full


def test_full_scale_is_the_brightest_light_through_any_window() -> None:
    sources = sources_of(CARD, [one.id for one in CARD.lights], profile(), 4.1)
    under = illuminance(sources.at, sources) * (1.0, 1.0, 0.65)
    assert PICTURE.full == pytest.approx(under.max(), rel=2e-3)
    assert at(PICTURE, 35, 24)[:3].max() == 255  # the red one: 0.5 cd at 20 mA


def test_windows_glow_in_the_lights_own_colours() -> None:
    white, red, blue = (at(PICTURE, *p)[:3].astype(int) for p in ((20, 24), (40, 24), (60, 50)))
    assert white[0] > white[1] > white[2] > 60
    assert red[0] > 3 * red[1]
    assert blue[2] > blue[1] > blue[0]


def test_paper_is_dark_and_ends_at_the_panels_outline() -> None:
    alpha = PICTURE.pixels[..., 3] / 255.0
    cell = PICTURE.mm_per_pixel[0] * PICTURE.mm_per_pixel[1]
    assert alpha.sum() * cell == pytest.approx(PANEL.area, rel=1e-3)
    assert at(PICTURE, 95, 5)[3] == 0  # the notch
    for place in ((5, 75), (85, 75), (50, 10), (85, 30)):
        pixel = at(PICTURE, *place)
        assert pixel[3] == 255
        assert pixel[:3].max() < 60
        assert not any(o.clear.buffer(3).contains(Point(place)) for o in WINDOWS)


def test_the_picture_lies_exactly_over_the_panel() -> None:
    assert PICTURE.box == pytest.approx(PANEL.bounds, abs=1e-9)
    height, width, _ = PICTURE.pixels.shape
    assert (width, height) == (982, 792)


def test_edges_are_smooth() -> None:
    """Along a row across a window's edge: paper, at most two pixels between, light."""
    picture = drawn(replace(CARD, openings=(window(1, box(17.03, 20, 23, 28)),)))
    row = picture.pixels[int((24 - picture.box[1]) / picture.mm_per_pixel[1]), :, 0].astype(int)
    edge = int((17.03 - picture.box[0]) / picture.mm_per_pixel[0])
    assert row[edge + 2] - row[edge - 2] > 60
    assert row[edge - 2] < row[edge] < row[edge + 2]


def test_what_is_glued_back_stays_dark() -> None:
    disc = Point(20, 24).buffer(9.0)
    ring = disc.difference(Point(24, 24).buffer(2.5))
    first = replace(WINDOWS[0], clear=ring)
    picture = drawn(replace(CARD, openings=(first, *WINDOWS[1:])))
    assert at(picture, 24, 24)[:3].max() < 100  # paper in the halo
    assert at(PICTURE, 24, 24)[:3].max() > 135


def test_a_hole_in_a_glow_area_shows_all_its_light() -> None:
    area = window(1, box(10, 10, 40, 40), through=True)
    hole = opening(2, (35, 24), 3.0)
    for order in ((area, hole), (hole, area)):
        picture = drawn(replace(CARD, openings=order))
        assert at(picture, 35, 24)[0] == 255
        assert at(picture, 20, 24)[0] < 130


def test_same_card_same_bits() -> None:
    assert (drawn(CARD).pixels == PICTURE.pixels).all()


def test_without_a_light_all_is_dark() -> None:
    picture = drawn(replace(CARD, lights=()))
    assert picture.pixels[..., :3].max() < 60
    assert picture.full == 1.0


def test_without_a_panel_there_is_no_picture() -> None:
    nothing = replace(CARD, panels=())
    assert lit_card(nothing, sources_of(nothing, [], profile()), profile()) is None


def test_a_huge_card_gets_coarser_pixels() -> None:
    grid = grid_over(box(0, 0, 1000, 700))
    assert grid.width * grid.height <= 2_510_000
    assert grid.across == pytest.approx(grid.down, rel=1e-2)


def test_several_panels_in_one_picture() -> None:
    two = (Panel("a", box(0, 0, 50, 80)), Panel("b", box(60, 0, 100, 80)))
    picture = drawn(replace(CARD, panels=two))
    assert picture.box == pytest.approx((0, 0, 100, 80))
    assert at(picture, 55, 5)[3] == 0
    assert at(picture, 65, 5)[3] == 255
