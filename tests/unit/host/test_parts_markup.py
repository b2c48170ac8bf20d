"""Parts that are put into a drawing read back as exactly what was meant, on every page."""

from __future__ import annotations

import math

import pytest
import shapely
from host_drawing import SPACES
from lxml import etree
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from underlit.interpretation.card import read_card
from underlit.interpretation.parts import Parts, read_parts
from underlit.markup.part_shapes import (
    Box,
    Disc,
    PartDrawing,
    bare_cell,
    flap_cell,
    holder,
    light,
    patch,
    pull_tab,
    resistor,
    rim_patch,
    switch,
)
from underlit.model.drawing import Drawing
from underlit.profiles import load_profile
from underlit_host.layers import Ids
from underlit_host.parts_markup import append_part
from underlit_host.read_drawing import read_drawing

PROFILE = load_profile("hand-laid")
CELL = PROFILE.cells["cr2032"]

PAGES = {
    "mm": 'width="200mm" height="100mm" viewBox="0 0 200 100"',
    "px": 'width="755.90551" height="377.95276"',
    "90 per inch": 'width="200mm" height="100mm" viewBox="0 0 708.66142 354.33071"',
    "odd unit and corner": 'width="20cm" height="10cm" viewBox="-7 3 66.6 33.3"',
    "second corner": 'width="8in" height="4in" viewBox="0 0 8 4"',
}
LAYERS = {
    "plain": "",
    "moved": 'transform="translate(31.7,-12.25)"',
    "scaled": 'transform="translate(-3,8) scale(3.7795276)"',
    "turned": 'transform="rotate(33,20,10)"',
    "mirrored and skewed": 'transform="matrix(-1.3,0.2,0.4,0.9,5,6)"',
}
PARTS = {
    "light": light("red", PROFILE.lights["red"]),
    "holder": holder(PROFILE.holders["plain-20"], CELL, closes="press"),
    "bare": bare_cell("cr2032", CELL),
    "flap": flap_cell("cr2032", CELL, fold_at=18.0),
    "switch": switch(),
    "resistor": resistor(47.0),
    "pull-tab": pull_tab(35.0),
}


def drawing_with(page: str = "mm", layer: str = "plain", label: str = "Lights"):
    """Root and layer of an empty drawing."""
    text = (
        f'<svg {SPACES} {PAGES[page]}><g id="around" transform="scale(0.8)">'
        f'<g inkscape:groupmode="layer" inkscape:label="{label}" {LAYERS[layer]}/></g></svg>'
    )
    root = etree.fromstring(text)
    return root, root[0][0]


def reread(root: etree._Element) -> Drawing:
    """What a file of this drawing is read as."""
    return read_drawing(etree.fromstring(etree.tostring(root)), "card.svg")


def wanted(part: PartDrawing, feature: str, at: tuple[float, float], angle: float) -> BaseGeometry:
    """A feature where it should lie, by shapely's own turning and moving."""
    outline = part.feature(feature)
    if isinstance(outline, Disc):
        shape = shapely.Point(outline.at).buffer(outline.radius, quad_segs=256)
    else:
        assert isinstance(outline, Box)
        b, r = outline, outline.corner
        shape = shapely.box(b.left + r, b.top + r, b.left + b.width - r, b.top + b.height - r)
        shape = shape.buffer(r, quad_segs=256) if r else shape
    return affinity.translate(affinity.rotate(shape, angle, origin=(0, 0)), *at)


def found(root: etree._Element) -> Parts:
    parts = read_parts(reread(root))
    assert not parts.incomplete
    assert not parts.strays
    return parts


@pytest.mark.parametrize("layer", LAYERS)
@pytest.mark.parametrize("page", PAGES)
def test_feet_lie_where_they_should_on_every_page_and_layer(page: str, layer: str) -> None:
    root, target = drawing_with(page, layer)
    places = [((60.5, 41.25), 0.0), ((20.0, 80.0), 90.0), ((150.0, 30.0), -33.7)]
    for i, (at, angle) in enumerate(places):
        append_part(root, target, PARTS["light"], at, angle, name=f"light-{i + 1}")
    parts = found(root).of("light")
    assert [p.id for p in parts] == ["light-1", "light-2", "light-3"]
    for part, (at, angle) in zip(parts, places, strict=True):
        assert part.at == pytest.approx(at, abs=0.001)
        for pad in ("positive-pad", "negative-pad"):
            place = wanted(PARTS["light"], pad, at, angle)
            assert place.hausdorff_distance(part.features[pad]) < 0.001
        plus, minus = (part.features[f"{s}-pad"].centroid for s in ("positive", "negative"))
        turn = math.degrees(math.atan2(plus.y - minus.y, plus.x - minus.x))
        assert turn == pytest.approx(angle, abs=0.01)
        assert part.scale == pytest.approx((1.0, 1.0), abs=1e-5)
        assert not part.mirrored


@pytest.mark.parametrize("name", PARTS)
def test_every_kind_of_part_reads_back(name: str) -> None:
    part = PARTS[name]
    root, target = drawing_with("px", "turned", "Power")
    append_part(root, target, part, (90.0, 50.0), 20.0, name="mine")
    (back,) = found(root).complete
    assert (back.id, back.kind) == ("mine", part.kind)
    assert back.attributes == {"part": part.kind, **part.attributes}
    for feature, shape in back.features.items():
        place = wanted(part, feature, (90.0, 50.0), 20.0)
        assert place.centroid.distance(shape.centroid) < 0.001
        assert place.hausdorff_distance(shape) < 0.006  # curves are followed within 0.005 mm
    assert set(back.features) == {s.feature for s in part.shapes if s.feature}


@pytest.mark.parametrize("page", PAGES)
def test_patches_paint_their_size(page: str) -> None:
    root, target = drawing_with(page, "scaled", "Tape")
    append_part(root, target, patch(9.0, 12.0), (50.0, 40.0), 90.0, name="bridge")
    append_part(root, target, rim_patch("cr2032", CELL, 2.0), (150.0, 50.0), name="rim")
    first, ring = read_card(reread(root), "fold").card.patches
    assert (first.object, ring.object) == ("bridge", "rim")
    assert first.geometry.bounds == pytest.approx((44.0, 35.5, 56.0, 44.5), abs=0.001)
    assert ring.geometry.bounds == pytest.approx((137.0, 37.0, 163.0, 63.0), abs=0.006)
    assert ring.geometry.area == pytest.approx(math.pi * (13.0**2 - 7.4**2), rel=0.002)


def test_ids_are_free_and_marks_name_them() -> None:
    root, target = drawing_with()
    mine = append_part(root, target, PARTS["light"], (10.0, 10.0), name="light-1")
    before = etree.tostring(mine)
    ids = Ids(root)
    made = append_part(
        root, target, PARTS["light"], (40.0, 10.0), name="light-1", action="place", ids=ids
    )
    again = append_part(
        root, target, PARTS["light"], (70.0, 10.0), name="light-1", ids=ids, more={"turn": "locked"}
    )
    assert [e.get("id") for e in (mine, made, again)] == ["light-1", "light-1-2", "light-1-3"]
    assert made.get("{urn:underlit:card:1}made") == "place:light-1-2"
    assert mine.get("{urn:underlit:card:1}made") is None
    assert again.get("{urn:underlit:card:1}turn") == "locked"
    assert etree.tostring(mine) == before
    assert [p.attributes.get("turn") for p in found(root).complete] == [None, None, "locked"]


def test_inside_a_tree_of_the_editors_library() -> None:
    from underlit_host.action import parse

    text = etree.tostring(drawing_with("px", "moved")[0])
    root = parse(text).getroot()
    assert "inkex" in type(root).__module__
    append_part(root, root[0][0], PARTS["light"], (60.0, 40.0), 45.0, name="light-1")
    (part,) = found(root).complete
    assert part.at == pytest.approx((60.0, 40.0), abs=0.001)
