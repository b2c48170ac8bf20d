"""Centre lines of strips that stay."""

from __future__ import annotations

import copy
import dataclasses
import itertools
import math
from collections import Counter
from collections.abc import Mapping

import pytest
import shapely
from lxml import etree
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from underlit.model.case import Case
from underlit.profiles import Profile, load_profile
from underlit.routing import Layout, route
from underlit.routing.middles import middle_lines
from underlit.routing.task import Pinned
from underlit.workflows.board import Wish, board_of
from underlit.workflows.route import lay_tape
from underlit.workflows.validate import case_of
from underlit_host.read_drawing import read_drawing

from .test_samples import SAMPLES
from .test_wishes import layout_of, row
from .verifier import area_of


@pytest.mark.parametrize(
    ("area", "ends"),
    [
        (box(10, 20, 50, 25), [(10.0, 22.5), (50.0, 22.5)]),
        (box(10, 20, 15, 60), [(12.5, 20.0), (12.5, 60.0)]),
        (LineString([(3, 4), (9, 4)]), [(3.0, 4.0), (9.0, 4.0)]),
    ],
)
def test_of_a_filled_strip(area: BaseGeometry, ends: list[tuple[float, float]]) -> None:
    (line,) = middle_lines(Pinned("own", area, 5.0, None, "positive"))
    assert sorted(line.coords) == ends


C_SHAPE = box(0, 0, 60, 40).difference(box(5, 5, 61, 35))


@pytest.mark.parametrize(
    ("area", "lines", "length"),
    [
        (C_SHAPE, 1, 145.0),
        (box(0, 0, 60, 5).union(box(0, 0, 5, 40)), 1, 90.0),
        (box(0, 0, 60, 5).union(box(28, 0, 33, 40)), 3, 90.0),
        (box(0, 0, 60, 40).difference(box(5, 5, 55, 35)), 1, 180.0),
        (Point(0, 0).buffer(32.5).difference(Point(0, 0).buffer(27.5)), 1, 2.0 * math.pi * 30.0),
        # a narrow strip with a wide end
        (box(0, 0, 60, 3).union(box(50, -6, 68, 9)).union(box(0, 0, 3, 30)), 1, 85.0),
    ],
    ids=("C", "L", "T", "frame", "ring", "wide end"),
)
def test_of_a_strip_with_corners(area: Polygon, lines: int, length: float) -> None:
    """Centre lines lie in the strip, as far from either side, from end to end."""
    width = 2.0 * shapely.maximum_inscribed_circle(area).length
    found = middle_lines(Pinned("own", area, width, None, "positive"))
    assert len(found) == lines
    assert all(area.covers(line) for line in found)
    assert sum(line.length for line in found) == pytest.approx(length, rel=0.05)
    ends = Counter(end for line in found for end in (line.coords[0], line.coords[-1]))
    # three ways meet in the T
    assert max(ends.values()) == {3: 3}.get(lines, 2 if found[0].is_closed else 1)


@pytest.mark.parametrize("drawn", ["stroked", "filled", "two overlapping pieces"])
def test_nothing_is_laid_where_own_strips_reach_every_light(drawn: str) -> None:
    """They were laid by the router itself; they bend."""
    whole = layout_of(row())
    pins = []
    for k, strip in enumerate(whole.strips):
        line = LineString(strip.points)
        lines = [line]
        if drawn == "two overlapping pieces":
            at = line.length / 2.0
            lines = [substring(line, 0.0, at + 2.5), substring(line, at - 2.5, line.length)]
        for part in lines:
            area = part.buffer(2.5, cap_style="flat", join_style="mitre")
            middle = None if drawn == "filled" else part
            pins.append(Pinned(f"own {k}", area, 5.0, middle, strip.polarity))
    assert any(len(strip.points) > 2 for strip in whole.strips)
    lights = tuple(dataclasses.replace(li, angle=whole.angles[li.id]) for li in row().lights)
    done = layout_of(dataclasses.replace(row(), lights=lights, pinned=tuple(pins)))
    assert done.strips == ()


PROFILE = load_profile("hand-laid", {}, None)


def sample(name: str, ways: Mapping[str, str], profile: Profile = PROFILE) -> tuple[Case, Layout]:
    """A sample of which strips lie otherwise, completed: (case, what is laid).

    `ways` are outlines by id: of a strip that is there (empty: as it is), or "id+" for one more.
    """
    root = etree.parse(SAMPLES / f"{name}.svg").getroot()
    for key, way in ways.items():
        (own,) = root.xpath(f"//*[@id='{key.rstrip('+')}']")
        if key.endswith("+"):
            own.addnext(copy.deepcopy(own))
            own = own.getnext()
            own.set("id", f"{own.get('id')}-more")
        if way:
            own.set("d", way)
            own.attrib.pop("class", None)
            own.set("style", "fill:#000;stroke:none")
    case = case_of(read_drawing(root, name), profile)
    done = route(board_of(case, Wish(effort=1), frozenset()))
    assert isinstance(done, Layout)
    return case, done


def garden(rail: str) -> tuple[Case, Layout]:
    """The night garden with its strip of minus tape that is an area drawn so, and completed."""
    return sample("night-garden", {"minus-rail": rail})


def test_nothing_is_laid_on_a_whole_card_with_strips_cut_from_a_sheet() -> None:
    """One of its strips is an area that goes round a bay; another lies on its end."""
    assert garden("")[1].strips == ()


def test_an_area_that_ends_too_soon_is_led_on() -> None:
    """The rail without its upper arm: what is laid begins on it, not in the bay it goes round."""
    rail = "M 134 101.5 L 60.039 101.5 L 41.5 88.604 L 41.5 76 L 36.5 76 L 36.5 91.216"
    case, done = garden(f"{rail} L 58.47 106.5 L 134 106.5 Z")
    (own,) = (strip.geometry for strip in case.card.strips if strip.object == "minus-rail")
    (added,) = done.strips
    assert added.polarity == "negative"
    assert area_of(added).intersection(own).area >= 0.4 * 25.0
    # from the rail's end at 39, 76 to the light in the moon at 133, 57
    assert done.figures.length < 130.0


@pytest.mark.parametrize(
    "area",
    [
        box(0, 0, 50, 0.5).union(box(0, 0, 0.5, 50)),
        Polygon([(0, 0), (40, 0), (0, 1)]),
        MultiPolygon([box(0, 0, 30, 5), box(40, 0, 45, 30)]),
        Point(0, 0).buffer(40, quad_segs=900).difference(Point(0, 0).buffer(30, quad_segs=900)),
    ],
    ids=["thin", "needle", "two parts", "many sides"],
)
def test_of_odd_areas(area: BaseGeometry) -> None:
    found = middle_lines(Pinned("own", area, 5.0, None, "positive"))
    assert found
    assert all(line.length > 24.0 for line in found)


#: The plus rail of the street up to a place, and from 129 mm on.
UP_TO, FROM_129 = (
    "M 27.5 38.5 H {} V 43.5 H 27.5 Z",
    "M 129 38.5 H 211.5 V 81.5 H 56 V 76.5 H 206.5 V 43.5 H 129 Z",
)


@pytest.mark.parametrize(("end", "added"), [(126.0, 16.0), (130.0, 12.0), (131.5, 0.0)])
def test_own_strips_that_do_not_overlap_enough_are_joined_where_they_end(
    end: float, added: float
) -> None:
    """Both lie 3 mm from minus, nearer than tape of the tool's would along all of their length."""
    ways = {"plus-rail+": FROM_129, "plus-rail": UP_TO.format(end), "minus-rail": ""}
    case, done = sample("street", ways)
    assert len(done.strips) == (added > 0.0)
    assert done.figures.length <= added
    for strip in done.strips:
        own = [one.geometry for one in case.card.strips if one.object.startswith("plus-rail")]
        assert [area_of(strip).intersection(area).area >= 10.0 for area in own] == [True, True]


def test_what_joins_own_strips_has_folded_ends_where_the_glue_does_not_conduct() -> None:
    first, second = (
        "M 100.5 150 V 104.5 H 90 V 99.5 H 105.5 V 150 Z",
        "M 96 99.5 V 104.5 H 57.5 V 80.5 H 62.5 V 99.5 Z",
    )
    plain = load_profile("hand-laid", {"tape": {"use": "foil-5-plain"}}, None)
    ways = {"plus-strip+": second, "plus-strip": first}
    (joining,) = sample("lantern", ways, plain)[1].strips
    assert joining.joint == "folded-end"
    assert sample("lantern", ways)[1].strips == ()


def test_own_strips_nearer_to_one_another_than_tape_of_the_tools_are_completed() -> None:
    """The plus strip comes within 1.5 mm of minus: hers to judge, and Validate's to tell."""
    root = etree.parse(SAMPLES / "lighthouse.svg").getroot()
    (own,) = root.xpath("//*[@id='plus-rail']")
    own.set("d", "M 65.5 38.5 H 70.5 V 110 H 65.5 V 95 H 64 V 90 H 65.5 Z")
    own.set("style", "fill:#000;stroke:none")
    wish = Wish(effort=1)
    done = lay_tape(read_drawing(root, "lighthouse"), PROFILE, wish, False, lambda: 0.0)
    assert [strip.sign for strip in done.strips] == ["positive"]
    assert done.laid


@pytest.mark.parametrize(
    ("top", "low", "overlap", "joined"), [(39.5, 42.5, 3.0, True), (36.0, 43.5, 2.0, False)]
)
def test_own_strips_overlap_enough_by_the_width_of_the_narrower(
    top: float, low: float, overlap: float, joined: bool
) -> None:
    """9 mm2 are enough with tape of 3 mm, 15 mm2 are not with tape of 7.5 mm."""
    ways = {
        "plus-rail+": f"M 129 {top} H 211.5 V 81.5 H 56 V 76.5 H 206.5 V {low} H 129 Z",
        "plus-rail": f"M 27.5 {top} H {129 + overlap} V {low} H 27.5 Z",
    }
    assert (sample("street", ways)[1].strips == ()) == joined


def test_what_is_laid_nearer_to_own_strips_than_the_aim_is_told() -> None:
    ways = {"plus-rail": "M 65.5 38.5 H 70.5 V 90 H 65.5 Z"}
    case, done = sample("lighthouse", ways)
    (own,) = (strip.geometry for strip in case.card.strips if strip.object == "minus-rail")
    near = min(area_of(strip).distance(own) for strip in done.strips)
    told = [place.have for place in done.under_aims if place.what == "gap"]
    assert near < 2.98
    assert told == [pytest.approx(near, abs=1e-3)]


def test_own_paper_over_a_strip_is_where_the_other_side_crosses() -> None:
    """The garden without its strip from the battery over the paper to the rail: 40 mm of it."""
    root = etree.parse(SAMPLES / "night-garden.svg").getroot()
    (own,) = root.xpath("//*[@id='minus-crossing']")
    own.getparent().remove(own)
    case = case_of(read_drawing(root, "night-garden"), PROFILE)
    done = route(board_of(case, Wish(effort=1), frozenset()))
    assert isinstance(done, Layout)
    assert done.figures.length < 50.0


def test_on_a_whole_card_no_time_is_wanting() -> None:
    root = etree.parse(SAMPLES / "night-garden.svg").getroot()
    case = case_of(read_drawing(root, "night-garden"), PROFILE)
    task = board_of(case, Wish(effort=1, seconds=0.1), frozenset())
    done = route(task, itertools.count().__next__)
    assert isinstance(done, Layout)
    assert (done.strips, done.ended) == ((), False)


@pytest.mark.parametrize(
    ("label", "way"),
    [
        pytest.param(None, "M 65.5 38.5 H 70.5 V 85 H 65.5 Z", id="on feet of lights"),
        pytest.param("negative", "M 65.5 60 H 70.5 V 169 H 46 V 164 H 65.5 Z", id="on the battery"),
    ],
)
def test_an_own_strip_is_on_the_side_of_what_it_touches(label: str | None, way: str) -> None:
    root = etree.parse(SAMPLES / "lighthouse.svg").getroot()
    (own,) = root.xpath("//*[@id='plus-rail']")
    own.set("d", way)
    own.set("style", "fill:#000;stroke:none")
    own.attrib.pop("{urn:underlit:card:1}polarity")
    if label is not None:
        own.set("{urn:underlit:card:1}polarity", label)
    case = case_of(read_drawing(root, "lighthouse"), PROFILE)
    task = board_of(case, Wish(effort=1), frozenset())
    assert {p.polarity for p in task.pinned if p.id == "plus-rail"} == {"positive"}
    assert isinstance(route(task), Layout)


def test_of_nothing() -> None:
    (line,) = middle_lines(Pinned("own", Polygon(), 5.0, None, "positive"))
    assert line.length == 0.0
