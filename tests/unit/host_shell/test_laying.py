"""Tape, signs and turned parts drawn into drawings of every kind, read back in page mm."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from lxml import etree

from kit.run import ROOT
from underlit.markup.signs import MINUS, PLUS, Signed, sign_groups
from underlit.model.drawing import Drawing
from underlit.profiles import load_profile
from underlit.workflows.laying import LaidStrip
from underlit.workflows.validate import case_of
from underlit_host.laying import draw_signs, draw_strips, made_by, turn_parts
from underlit_host.made import take_out
from underlit_host.read_drawing import read_drawing

NAMES = ("lantern", "lighthouse", "firefly-jar", "street", "night-garden")
ACTION = "route_tape"


def root_of(name: str) -> etree._Element:
    return etree.parse(str(ROOT / "sample_svgs" / f"{name}.svg")).getroot()


def read(root: etree._Element) -> Drawing:
    return read_drawing(root, "card.svg")


def signed(root: etree._Element):
    """Every strip with the side that it is on, and the bodies of parts."""
    drawing = read(root)
    case = case_of(drawing, load_profile(drawing.profile, drawing.settings, None))
    pairs = zip(case.circuit.conductors, case.signs, strict=True)
    strips = [(c.strip, sign) for c, sign in pairs if c.strip is not None and sign is not None]
    return case, [Signed(strip, sign, f"{sign[0]}{n}") for n, (strip, sign) in enumerate(strips)]


@pytest.mark.parametrize("name", NAMES)
def test_strips_come_back_as_they_were_laid(name: str) -> None:
    root = root_of(name)
    before = len(signed(root)[0].card.strips)
    laid = [
        LaidStrip("P1", ((20.0, 30.0), (60.0, 30.0), (60.0, 50.0)), 5.0, "positive"),
        LaidStrip("M1", ((20.0, 70.0), (60.0, 75.0)), 3.5, "negative", "folded-end"),
    ]
    draw_strips(root, laid, ACTION)
    strips = signed(root)[0].card.strips[before:]
    assert [(s.polarity, s.joint) for s in strips] == [
        ("positive", None),
        ("negative", "folded-end"),
    ]
    for strip, wanted in zip(strips, laid, strict=True):
        assert strip.width == pytest.approx(wanted.width, abs=1e-3)
        assert np.allclose(strip.line.coords, wanted.points, atol=1e-3)


def test_only_what_the_action_made_is_taken_out_again() -> None:
    root = root_of("street")
    before = etree.tostring(root)
    strips = [
        LaidStrip("P1", ((9.0, 9.0), (30.0, 9.0)), 5.0, "positive"),
        LaidStrip("M1", ((9.0, 19.0), (30.0, 19.0)), 5.0, "negative"),
    ]
    draw_strips(root, strips, ACTION)
    plus, minus = made_by(root, "tape", ACTION)
    assert "stroke:" + PLUS in plus.get("style", "")
    assert "stroke:" + MINUS in minus.get("style", "")
    copy = etree.fromstring(etree.tostring(plus))
    plus.getparent().append(copy)  # a copy is the maker's: its mark names another id
    copy.set("id", "copied")
    minus.set("{urn:underlit:card:1}pin", "true")
    assert made_by(root, "tape", ACTION) == [plus]
    take_out([plus, minus, copy])
    assert etree.tostring(root) == before


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("angle", [30.0, -135.0])
def test_a_part_is_turned_about_its_lens(name: str, angle: float) -> None:
    root = root_of(name)
    light = signed(root)[0].card.lights[0]
    turn_parts(root, {light.id: (light.at, angle)})
    turned = signed(root)[0].card.lights[0]
    assert turned.at == pytest.approx(light.at, abs=1e-3)
    assert turned.scale == pytest.approx((1.0, 1.0), abs=1e-4)

    def heading(part) -> float:
        plus, minus = (part.features[k].centroid for k in ("positive-pad", "negative-pad"))
        return float(np.degrees(np.arctan2(plus.y - minus.y, plus.x - minus.x)))

    assert (heading(turned) - heading(light)) % 360.0 == pytest.approx(angle % 360.0, abs=0.05)


@pytest.mark.parametrize("name", NAMES)
def test_signs_lie_on_their_strips_and_a_second_run_is_the_same(name: str) -> None:
    root = root_of(name)
    case, strips = signed(root)
    bodies = [part.body for part in case.bodies]
    groups = sign_groups(strips, shapely.union_all(bodies))
    for group, one in zip(groups, strips, strict=True):
        strokes = [i for i in group.items if hasattr(i, "points") and not i.closed]
        assert strokes
        for stroke in strokes:
            assert one.strip.geometry.buffer(0.2).covers(shapely.linestrings(stroke.points))
        ups = [s for s in strokes if s.points[0][0] == s.points[1][0]]
        assert bool(ups) == (one.sign == "positive")
    draw_signs(root, groups, ACTION)
    once = etree.tostring(root)
    draw_signs(root, groups, ACTION)
    assert etree.tostring(root) == once


def test_signs_repeat_every_25_mm_and_at_both_ends() -> None:
    root = root_of("street")
    _, strips = signed(root)
    longest = max((s for s in strips if s.strip.line is not None), key=lambda s: s.strip.length)
    (group,) = sign_groups([longest], shapely.MultiPolygon())
    level = [i for i in group.items if hasattr(i, "points") and not i.closed]
    level = [i for i in level if i.points[0][1] == i.points[1][1]]
    line = longest.strip.line
    along = sorted(
        float(line.project(shapely.Point(np.mean(item.points, axis=0)))) for item in level
    )
    assert along[0] == pytest.approx(3.0, abs=0.01)
    assert along[-1] == pytest.approx(line.length - 3.0, abs=0.01)
    assert max(np.diff(along)) <= 25.0 + 1e-6


@pytest.mark.parametrize("order", ["first", "last"])
def test_turning_a_light_leaves_its_clones_as_they_lie(order: str) -> None:
    """The clone of a clone as well; and each turns by itself."""
    light = '<rect id="a" transform="translate(30,40) rotate(20)" width="12" height="5"/>'
    clones = (
        '<use id="b" href="#a" x="7" y="3" transform="translate(10,5) rotate(40)"/>'
        '<use id="c" href="#b" transform="translate(60,20) rotate(-75)"/>'
    )
    inner = light + clones if order == "first" else clones + light
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" '
    turns = {"a": ((35.0, 45.0), 90.0), "b": ((60.0, 60.0), -30.0)}

    def places(root: etree._Element) -> dict[str, np.ndarray]:
        for element in root:
            element.set("{urn:underlit:card:1}role", "die-cut")
        shapes = read_drawing(root, "").shapes
        return {shape.id: shape.contours[0].points for shape in shapes}

    def turned(points: np.ndarray, centre: tuple[float, float], angle: float) -> np.ndarray:
        c, s = np.cos(np.radians(angle)), np.sin(np.radians(angle))
        return (points - centre) @ np.array([[c, s], [-s, c]]) + centre

    root = etree.fromstring(head + 'viewBox="0 0 200 200">' + inner + "</svg>")
    before = places(root)
    turn_parts(root, turns)
    after = places(root)
    for name in ("a", "b"):
        assert after[name] == pytest.approx(turned(before[name], *turns[name]), abs=1e-4)
    assert after["c"] == pytest.approx(before["c"], abs=1e-4)


@pytest.mark.parametrize("other", [
    '<rect id="a" width="12" height="5" transform="scale(0)"/>',
    '<rect id="a" width="12" height="5" transform="matrix(1 2 3)"/>',
    '<g transform="scale(0 1)"><rect id="a" width="12" height="5"/></g>',
    '<rect id="a" width="12" height="5" transform="translate(90,20)"/>',
])  # fmt: skip
def test_of_objects_that_share_an_id_the_part_is_turned(other: str) -> None:
    light = '<g id="a" underlit:part="light" transform="translate(30,40)"><rect/></g>'
    root = etree.fromstring(
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
        f'width="200mm" height="200mm" viewBox="0 0 200 200">{other}{light}</svg>'
    )
    before = etree.tostring(root[0])
    turn_parts(root, {"a": ((30.0, 40.0), 90.0)})
    assert etree.tostring(root[0]) == before
    assert root[1].get("transform") != "translate(30,40)"
