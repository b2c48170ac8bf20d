"""Foam on the sample cards and on plain ones, measured by distances and rays of the tests' own."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
import shapely
from shapely.geometry import Point, box

from foam.cards import NAMES, sample
from kit.rays import rays_to, stopped
from rules.cards import bench, case, profile, sheet, window
from underlit.connectivity.folding import flaps_of
from underlit.foam import Ground, Layout, ground_of, lay_out, pads, press_of
from underlit.foam.pads import SIZES
from underlit.foam.pressing import feel_of
from underlit.model.card import Panel
from underlit.model.case import Case

STYLES = ("pads", "frame")
SPANS = (20.0, 30.0, 45.0)

every_style = pytest.mark.parametrize("style", STYLES)
every_card = pytest.mark.parametrize("name", NAMES)
every_foam = pytest.mark.parametrize("own", [True, False], ids=["own foam", "bare"])


def laid(of: Case, style: str, span: float = 30.0, off_tape: bool = False) -> tuple[Ground, Layout]:
    ground = ground_of(of.card, of.profile, 6.4, off_tape)
    return ground, lay_out(ground, style, span)


def solid(of: Case) -> shapely.Geometry:
    """Panel over the back sheet without windows and flaps, put together here."""
    area = shapely.union_all([p.outline for p in of.card.panels]).intersection(of.card.base)
    for opening in of.card.openings:
        area = area.difference(opening.outline)
    for flap in flaps_of(of.card):
        area = area.difference(flap.moving)
    return area


def pressed(of: Case) -> list[tuple[Point, float]]:
    """Middle and radius of each spot to press: 25 mm and 5 mm all round, or a holder's corners."""
    found = []
    for cell in of.card.cells:
        if cell.attributes.get("closes", "press") == "press":
            centre = cell.body.centroid
            corners = shapely.points(shapely.get_coordinates(cell.body))
            found.append((centre, max(17.5, float(corners_reach(corners, centre)) + 1.0)))
    return found


def corners_reach(corners: np.ndarray, centre: Point) -> float:
    return float(shapely.distance(corners, centre).max())


@every_foam
@every_style
@every_card
def test_no_ray_of_light_meets_foam(name: str, style: str, own: bool) -> None:
    """From all over each lens to all over its window, up to half brightness (120 degrees)."""
    of = sample(name, own)
    _, layout = laid(of, style)
    rings = [list(map(tuple, p.exterior.coords[:-1])) for p in layout.pieces]
    followed = 0
    for light in of.card.lights:
        over = [o for o in of.card.openings if o.outline.contains(Point(light.at))]
        window = min(over, key=lambda o: o.outline.area)
        kind = of.profile.lights[light.type]
        reach = (6.4 - kind.height - of.profile.tape.thickness) * math.tan(
            math.radians(kind.beam_angle / 2.0)
        )
        shape = shapely.get_parts(window.outline)[0]
        outline = list(map(tuple, shape.exterior.coords[:-1]))
        rays = rays_to(light.at, kind.lens / 2.0, outline, reach)
        followed += len(rays)
        near = [r for r in rings if min(math.dist(light.at, p) for p in r) < 40.0]
        assert not [ray for ray in rays for ring in near if stopped(*ray, ring)]
    assert followed > 100


def test_the_rays_see_foam_that_is_in_the_way() -> None:
    of = sample("lantern")
    light = of.card.lights[0]
    window = [
        (light.at[0] + dx, light.at[1] + dy) for dx, dy in ((-9, -9), (9, -9), (9, 9), (-9, 9))
    ]
    post = [(light.at[0] + dx, light.at[1] + dy) for dx, dy in ((4, -1), (5, -1), (5, 1), (4, 1))]
    rays = rays_to(light.at, 1.5, window, 8.0)
    blocked = [stopped(*ray, post) for ray in rays]
    assert any(blocked)
    assert not all(blocked)


@every_foam
@every_style
@every_card
def test_foam_keeps_off_all_it_should(name: str, style: str, own: bool) -> None:
    of = sample(name, own)
    _, layout = laid(of, style)
    card = of.card
    foam = shapely.union_all(layout.pieces)
    assert layout.pieces
    panel = shapely.union_all([p.outline for p in card.panels])
    for sheet_ in (panel, card.base):
        assert sheet_.contains(foam)
        assert sheet_.boundary.distance(foam) >= 3.99
    assert min(o.outline.distance(foam) for o in card.openings) >= 2.99
    assert min(p.body.distance(foam) for p in card.parts) >= 0.99
    for centre, radius in pressed(of):
        assert centre.distance(foam) >= radius - 1e-6
    for one in card.foam:
        assert one.geometry.distance(foam) >= 1.99
    for flap in flaps_of(card):
        assert flap.moving.distance(foam) >= 1.99
        assert flap.land(flap.moving).distance(foam) >= 1.99
    pieces = np.array(layout.pieces, dtype=object)
    for i, piece in enumerate(pieces):
        others = np.delete(pieces, i)
        assert shapely.distance(piece, others).min() >= 1.99, "no room for a knife"
        assert 2.0 * shapely.maximum_inscribed_circle(piece).length >= 2.9, "too thin to cut"


@every_style
@every_card
def test_off_the_tape_where_that_is_wanted(name: str, style: str) -> None:
    of = sample(name)
    tape = shapely.union_all([s.geometry for s in of.card.strips])
    _, over = laid(of, style)
    _, off = laid(of, style, off_tape=True)
    assert tape.distance(shapely.union_all(off.pieces)) >= 0.99
    assert tape.intersects(shapely.union_all(over.pieces))


@pytest.mark.parametrize("span", SPANS)
@every_style
@every_card
def test_everything_is_supported_where_there_is_room(name: str, style: str, span: float) -> None:
    """On a grid of the test's own (0.7 mm): no place is farther than half a span from foam, but
    where not even the smallest pad has room within reach."""
    of = sample(name, own_foam=False)
    ground, layout = laid(of, style, span)
    foam = shapely.union_all(layout.pieces)
    area = solid(of)
    for centre, radius in pressed(of):
        area = area.difference(centre.buffer(radius))
    left, top, right, bottom = area.bounds
    x, y = np.meshgrid(np.arange(left, right, 0.7), np.arange(top, bottom, 0.7))
    inside = shapely.contains_xy(area, x.ravel(), y.ravel())
    points = np.column_stack([x.ravel(), y.ravel()])[inside]
    far = shapely.distance(shapely.points(points), foam)
    assert layout.unsupported is not None
    assert 2.0 * far.max() <= layout.unsupported + 0.01 + 1.0
    assert 2.0 * far.max() >= layout.unsupported - 2.5
    lost = points[far > span / 2.0 + 0.01]
    free = ground.free.difference(shapely.buffer(foam, 2.0))
    # a 4 mm pad would have room about its middle where a square of 6 mm (cells of 0.5) is free
    room = shapely.buffer(free, -3.0, join_style="mitre")
    room = shapely.buffer(shapely.buffer(room, 0.0), 0.0)
    if len(lost) and not room.is_empty:
        assert shapely.distance(shapely.points(lost), room).min() >= span / 2.0 - 4.5


def test_a_plain_card_is_supported_everywhere() -> None:
    of = case(bench(openings=(), lights=(), cells=(), strips=[]))
    for style in STYLES:
        for span in SPANS:
            _, layout = laid(of, style, span)
            assert layout.unsupported is not None
            assert layout.unsupported <= span


def test_a_smaller_span_takes_more_foam() -> None:
    of = case(bench(openings=(), lights=(), cells=(), strips=[]))
    numbers = [len(laid(of, "pads", span)[1].pieces) for span in SPANS]
    assert numbers[0] > numbers[1] > numbers[2] >= 4


def test_foam_that_is_there_counts() -> None:
    plain = bench(openings=(), lights=(), cells=(), strips=[])
    bars = tuple(sheet(f"f{k}", "foam", box(5, 5 + 17 * k, 95, 10 + 17 * k)) for k in range(5))
    ground, layout = laid(case(replace(plain, foam=bars)), "pads", 30.0)
    assert layout.pieces == ()
    assert layout.unsupported is not None
    assert layout.unsupported <= 30.0
    assert ground.kept.area == pytest.approx(5 * 90 * 5)


def test_the_layout_of_a_mirrored_card_is_as_good() -> None:
    """Nothing prefers left or right but ties."""
    of = sample("firefly-jar", own_foam=False)
    _, layout = laid(of, "pads")
    shapes = {tuple(np.round(np.subtract(p.bounds[2:], p.bounds[:2]), 6)) for p in layout.pieces}
    sizes = {size for size, _ in SIZES}
    assert shapes <= sizes


def test_the_press_by_hand() -> None:
    """Free 26 mm (a = 13), 0.35 mm card, down 0.44 mm: w/t = 1.257143;
    1.257143 + 0.2 x 1.986765 = 1.654496; x 3000 x 0.35^4 / (0.217 x 169)
    = 1.654496 x 45.01875 / 36.673 = 2.031 N."""
    spot, ring = Point(0, 0).buffer(13), Point(0, 0).buffer(40, 256) - Point(0, 0).buffer(13, 2048)
    press = press_of(spot, ring, 0.44, 0.35)
    assert press is not None
    assert press.force == pytest.approx(2.031, abs=0.002)
    assert press.free == pytest.approx(26.0, abs=1e-3)
    assert press.feel == "soft"


def test_a_small_ring_is_stiff_and_a_large_one_soft() -> None:
    forces = []
    for radius in (6.0, 9.0, 13.0, 18.0):
        ring = Point(0, 0).buffer(40) - Point(0, 0).buffer(radius, 64)
        press = press_of(Point(0, 0).buffer(5), ring, 0.8, 0.35)
        assert press is not None
        forces.append(press.force)
    assert forces == sorted(forces, reverse=True)
    assert (feel_of(forces[0]), feel_of(forces[-1])) == ("too stiff", "soft")
    assert [feel_of(f) for f in (3.0, 3.1, 6.0, 6.1)] == ["soft", "firm", "firm", "too stiff"]
    assert profile().press.ring_inside_min == 25.0


def test_a_lace_panel_without_room_is_told_after_few_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    """Threads of 3 mm between 400 windows: nowhere 10 mm of paper, so nowhere is looked twice."""
    base = box(0, 0, 210, 210)
    holes = tuple(
        window(k, box(x, y, x + 7, y + 7))
        for k, (x, y) in enumerate([(5 + 10 * i, 5 + 10 * j) for i in range(20) for j in range(20)])
    )
    of = case(
        bench(panels=(Panel("p", base),), base=base, openings=holes, lights=(), cells=(), strips=[])
    )
    looks: list[np.ndarray] = []
    look = pads._most_useful
    monkeypatch.setattr(pads, "_most_useful", lambda *a: looks.append(a[2]) or look(*a))
    for style in STYLES:
        looks.clear()
        layout = laid(of, style)[1]
        assert (layout.pieces, layout.unsupported, layout.at) == ((), None, None)
        assert len(looks) > 10
        # no look falls where an earlier one, a span of 30 mm all round, has settled it
        assert min(math.dist(a, b) for a, b in combinations(looks, 2)) > 25.0


def test_part_without_room_is_told_with_its_place() -> None:
    """A window of 60 mm: its left rim, 6 mm of paper at the panel's edge, takes no foam."""
    base = box(0, 0, 100, 80)
    of = case(
        bench(openings=(window(1, box(6, 5, 70, 75)),), lights=(), cells=(), strips=[], base=base)
    )
    _, layout = laid(of, "pads")
    assert layout.pieces
    assert layout.unsupported is not None
    assert layout.unsupported > 100.0
    assert layout.at is not None
    assert layout.at[0] <= 6.0


@pytest.mark.parametrize("room", [-1.0, 0.0, 1e-12, 1e-3, 29.0, 31.0])
def test_a_row_of_pads_fits_between_its_ends(room: float) -> None:
    """Also where there is room for one pad and next to nothing more."""
    high = 20.0 + pads.PAD + room
    row = pads._line(20.0, high, 30.0)
    assert len(row) == (1 if room <= 0.0 else 2 if room <= 30.0 else 3)
    assert all(20.0 <= x <= high for x in row)
    assert np.diff(row, prepend=row[0]).max() <= 30.0 + 1e-9
