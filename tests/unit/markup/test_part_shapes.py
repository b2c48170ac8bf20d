"""Drawn parts: sizes of the profile, feet that can be told apart, everything where it belongs."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from underlit.connectivity.folding import mirror
from underlit.markup.part_shapes import (
    Box,
    Disc,
    Line,
    PartDrawing,
    Rings,
    bare_cell,
    flap_cell,
    flap_line,
    holder,
    light,
    patch,
    pull_tab,
    resistor,
    rim_patch,
    switch,
)
from underlit.markup.part_shapes.others import FIGURES, GOLD, SILVER, circle
from underlit.model.card import FEATURES
from underlit.profiles import load_profile

PROFILE = load_profile("hand-laid")
PADS = ("negative-pad", "positive-pad")


def area(outline: object) -> BaseGeometry:
    """What an outline encloses."""
    if isinstance(outline, Box):
        b = outline
        return shapely.box(b.left, b.top, b.left + b.width, b.top + b.height)
    if isinstance(outline, Disc):
        return shapely.Point(outline.at).buffer(outline.radius, quad_segs=64)
    assert isinstance(outline, Rings)
    whole = shapely.Polygon(outline.rings[0])
    for ring in outline.rings[1:]:
        whole = whole.symmetric_difference(shapely.Polygon(ring))
    return whole


def every_part() -> Iterator[PartDrawing]:
    for name, kind in PROFILE.lights.items():
        yield light(name, kind)
    for name, cell in PROFILE.cells.items():
        yield from (bare_cell(name, cell), flap_cell(name, cell), flap_cell(name, cell, up="minus"))
        yield bare_cell(name, cell, closes="tab", up="minus")
        yield rim_patch(name, cell, 2.0)
    for housing in PROFILE.holders.values():
        for closes in (None, "press", "slide", "flap"):
            yield holder(housing, PROFILE.cells[housing.cell], closes=closes)
    yield from (switch(), switch("press"), resistor(47.0), pull_tab(30.0), patch(9.0, 12.0))


PARTS = list(every_part())


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.title)
def test_each_feature_once_and_minus_to_plus_along_x(part: PartDrawing) -> None:
    found = [shape.feature for shape in part.shapes if shape.feature]
    assert sorted(found) == sorted(FEATURES.get(part.kind, ()))
    ends = [pad for pad in (*PADS, "contact-1", "contact-2") if pad in found]
    if ends:
        (x0, y0), (x1, y1) = (area(part.feature(e)).centroid.coords[0] for e in ends)
        assert x1 > x0
        assert (y0, y1) == pytest.approx((0.0, 0.0))


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.title)
def test_each_sign_lies_on_its_foot_and_stands_out(part: PartDrawing) -> None:
    if "negative-pad" not in FEATURES.get(part.kind, ()):
        return
    feet = dict.fromkeys(PADS, 0)
    for i, shape in enumerate(part.shapes):
        if shape.feature in feet:
            mark = part.shapes[i + 1]
            drawn = area(mark.outline)
            assert area(shape.outline).contains(drawn)
            low, high = sorted((grey(mark.paint.fill), grey(shape.paint.fill)))
            assert (high + 0.05) / (low + 0.05) > 4.5
            box = drawn.bounds
            width, height = box[2] - box[0], box[3] - box[1]
            assert width > 1.1
            assert min(width, drawn.area / width) > 0.25
            assert (height == pytest.approx(width)) == (shape.feature == "positive-pad")
            feet[shape.feature] += 1
    assert set(feet.values()) == {1}


def grey(colour: str | None) -> float:
    """Relative luminance (WCAG 2)."""
    assert colour is not None
    parts = [int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in parts]
    return float(np.dot(linear, (0.2126, 0.7152, 0.0722)))


def test_plus_is_dark_and_minus_is_light() -> None:
    paints = {s.feature: s.paint.fill for s in PARTS[0].shapes if s.feature in PADS}
    dark, pale = grey(paints["positive-pad"]), grey(paints["negative-pad"])
    assert (pale + 0.05) / (dark + 0.05) > 4.5
    assert paints == {"positive-pad": "#003f66", "negative-pad": "#e69f00"}


def test_a_light_is_as_large_as_its_profile_says() -> None:
    kind = dataclasses.replace(
        PROFILE.lights["red"], body=(9.0, 4.0), pad=(2.0, 3.5), pad_pitch=5.0, lens=1.5
    )
    part = light("mini", kind, contact="above", shows="edge")
    assert area(part.feature("body")).bounds == pytest.approx((-4.5, -2.0, 4.5, 2.0))
    assert area(part.feature("positive-pad")).bounds == pytest.approx((1.5, -1.75, 3.5, 1.75))
    assert area(part.feature("negative-pad")).bounds == pytest.approx((-3.5, -1.75, -1.5, 1.75))
    lens = part.feature("lens")
    assert isinstance(lens, Disc)
    assert (lens.at, lens.radius) == ((0.0, 0.0), 0.75)
    assert part.attributes == {"type": "mini", "contact": "above", "shows": "edge"}
    assert light("red", kind).attributes == {"type": "red"}


@pytest.mark.parametrize("name", PROFILE.cells)
def test_a_bare_cell_keeps_its_feet_within_its_cap(name: str) -> None:
    kind = PROFILE.cells[name]
    part = bare_cell(name, kind)
    body = part.feature("body")
    assert isinstance(body, Disc)
    assert (body.at, body.radius) == ((0.0, 0.0), kind.diameter / 2.0)
    plus, minus = (area(part.feature(pad)) for pad in PADS)
    cap = shapely.Point(0, 0).buffer(kind.cap_radius + 1e-6, quad_segs=64)
    assert cap.contains(plus)
    assert cap.contains(minus)
    assert plus.distance(minus) == pytest.approx(kind.cap_radius / 2.0)
    radii = sorted(s.outline.radius for s in part.shapes if isinstance(s.outline, Disc))
    assert kind.cap_radius in radii
    assert part.attributes == {"type": name, "closes": "press"}


@pytest.mark.parametrize("up", ["plus", "minus"])
@pytest.mark.parametrize("fold_at", [None, 25.0])
@pytest.mark.parametrize("name", PROFILE.cells)
def test_a_flap_lands_on_the_middle_of_its_cell(name: str, fold_at: float | None, up: str) -> None:
    kind = PROFILE.cells[name]
    part = flap_cell(name, kind, fold_at=fold_at, up=up)
    fold = shapely.LineString(flap_line(kind, fold_at=fold_at, up=up))
    on_flap, under = ("positive-pad", "negative-pad")[:: 1 if up == "plus" else -1]
    landed = mirror(fold)(area(part.feature(on_flap)))
    assert landed.centroid.distance(shapely.Point(0, 0)) < 1e-9
    assert area(part.feature(under)).centroid.distance(shapely.Point(0, 0)) < 1e-9
    assert landed.area == pytest.approx(area(part.feature(under)).area)
    assert fold.distance(area(part.feature("body"))) > 2.0
    assert fold.distance(area(part.feature(on_flap))) > 2.0
    assert fold.length == pytest.approx(kind.diameter + 4.0)
    assert abs(fold.centroid.x) == (fold_at or kind.diameter / 2.0 + 7.0)
    assert part.attributes.get("up", "plus") == up
    assert part.attributes["closes"] == "flap"


@pytest.mark.parametrize("name", PROFILE.holders)
def test_a_holder_is_as_large_as_its_profile_says(name: str) -> None:
    kind = PROFILE.holders[name]
    part = holder(kind, PROFILE.cells[kind.cell])
    x, y = kind.body
    assert area(part.feature("body")).bounds == pytest.approx((-x / 2, -y / 2, x / 2, y / 2))
    for pad, way in zip(PADS, (-1, 1), strict=True):
        foot = area(part.feature(pad))
        assert foot.centroid.x == pytest.approx(way * kind.pad_pitch / 2)
        assert foot.area == pytest.approx(kind.pad[0] * kind.pad[1])
    coin = max(s.outline.radius for s in part.shapes if isinstance(s.outline, Disc))
    assert 2 * coin == pytest.approx(PROFILE.cells[kind.cell].diameter, abs=0.5)
    assert part.attributes == {"type": kind.cell, "closes": kind.closes}


def test_holders_look_different_by_how_they_close() -> None:
    kind = PROFILE.holders["plain-20"]
    cell = PROFILE.cells["cr2032"]
    looks = {w: len(holder(kind, cell, closes=w).shapes) for w in ("press", "slide", "always")}
    assert len(set(looks.values())) == 3


def test_a_rim_patch_covers_the_ring_and_leaves_the_cap_open() -> None:
    kind = PROFILE.cells["cr2032"]
    (shape,) = rim_patch("cr2032", kind, 2.0).shapes
    paper = area(shape.outline).buffer(shape.paint.width / 2.0, quad_segs=64)
    ring = shapely.Point(0, 0).buffer(11.0).difference(shapely.Point(0, 0).buffer(8.0))
    assert paper.contains(ring)
    assert paper.bounds[2] == pytest.approx(13.0, abs=0.01)
    assert not paper.intersects(shapely.Point(0, 0).buffer(7.3))


def test_a_patch_paints_its_size() -> None:
    (shape,) = patch(9.0, 12.0).shapes
    painted = area(shape.outline).buffer(shape.paint.width / 2.0, join_style="mitre")
    assert painted.bounds == pytest.approx((-4.5, -6.0, 4.5, 6.0))
    assert shape.feature is None


def test_a_pull_tab_reaches_from_under_the_battery_to_its_end() -> None:
    part = pull_tab(40.0, width=9.0, back=6.0)
    assert area(part.feature("body")).bounds == pytest.approx((-6.0, -4.5, 40.0, 4.5))
    assert all(
        area(part.feature("body")).contains(shapely.LineString(s.outline.points))
        for s in part.shapes
        if isinstance(s.outline, Line)
    )


@pytest.mark.parametrize(
    ("ohms", "bands", "words"),
    [
        (47.0, (FIGURES[4], FIGURES[7], FIGURES[0]), "47"),
        (100.0, (FIGURES[1], FIGURES[0], FIGURES[1]), "100"),
        (220.0, (FIGURES[2], FIGURES[2], FIGURES[1]), "220"),
        (1000.0, (FIGURES[1], FIGURES[0], FIGURES[2]), "1000"),
        (4.7, (FIGURES[4], FIGURES[7], GOLD), "4.7"),
        (0.47, (FIGURES[4], FIGURES[7], SILVER), "0.47"),
        (99.7, (FIGURES[1], FIGURES[0], FIGURES[1]), "99.7"),
    ],
)
def test_a_resistor_wears_the_bands_of_its_value(
    ohms: float, bands: tuple[str, ...], words: str
) -> None:
    part = resistor(ohms)
    assert tuple(shape.paint.fill for shape in part.shapes[-3:]) == bands
    assert part.attributes == {"ohms": words}


def test_circles_are_followed_closely() -> None:
    for radius in (1.0, 7.4, 13.0):
        ring = shapely.Polygon(circle(radius))
        assert ring.exterior.distance(shapely.Point(0, 0)) > radius - 0.005
        assert np.hypot(*circle(radius).T) == pytest.approx(radius)
