"""Basic shapes, path commands, units and transforms come out in page mm."""

from __future__ import annotations

import math

import numpy as np
import pytest
from host_drawing import area, box, only, read_cut, remark

from underlit.units import FLATNESS

PX = 'width="210mm" height="297mm"'  # user unit is the CSS px


@pytest.mark.parametrize(
    ("content", "bounds"),
    [
        ('<rect x="1" y="2" width="3" height="4"/>', (1, 2, 4, 6)),
        ('<rect x="10%" y="10%" width="50%" height="20%"/>', (20, 10, 120, 30)),
        ('<circle cx="10" cy="20" r="3"/>', (7, 17, 13, 23)),
        ('<circle cx="50%" cy="50%" r="10%"/>', (84.189, 34.189, 115.811, 65.811)),
        ('<ellipse cx="10" cy="20" rx="3" ry="2"/>', (7, 18, 13, 22)),
        ('<ellipse cx="10" cy="20" rx="3"/>', (7, 17, 13, 23)),
        ('<ellipse cx="10" cy="20" rx="auto" ry="2"/>', (8, 18, 12, 22)),
        ('<line x1="1" y1="2" x2="5" y2="3"/>', (1, 2, 5, 3)),
        ('<polyline points="1,2 5,3 4,9"/>', (1, 2, 5, 9)),
        ('<polygon points="1,2 5-3.5.5 2"/>', (0.5, -3.5, 5, 2)),
        ('<polygon points=" 1 2, 5 3 , 4 9 "/>', (1, 2, 5, 9)),
        ('<path d="M1 2L5 3l-1 6z"/>', (1, 2, 5, 9)),
        ('<path d="m1 2 4 1-1 6"/>', (1, 2, 5, 9)),
        ('<path d="M1 2H5V9h-7v-20"/>', (-2, -11, 5, 9)),
        ('<path d="M0 0C0 10 10 10 10 0"/>', (0, 0, 10, 7.5)),
        ('<path d="M0 0c0 10 10 10 10 0s10-10 10 0"/>', (0, -7.5, 20, 7.5)),
        ('<path d="M0 0S0 10 10 0"/>', (0, 0, 10, 4.444)),
        ('<path d="M0 0Q5 10 10 0"/>', (0, 0, 10, 5)),
        ('<path d="M0 0q5 10 10 0t10 0"/>', (0, -5, 20, 5)),
        ('<path d="M0 0T10 5"/>', (0, 0, 10, 5)),
        ('<path d="M0 0A5 5 0 0 1 10 0"/>', (0, -5, 10, 0)),
        ('<path d="M0 0a5,5,0,0,0,10,0"/>', (0, 0, 10, 5)),
        ('<path d="M0 0a5 5 0 0010 0"/>', (0, 0, 10, 5)),
        ('<path d="M0 0a5 5 0 01.5.5"/>', (0, 0, 0.5, 0.5)),
        ('<path d="M0 0a1 1 0 0110 0"/>', (0, -5, 10, 0)),
        ('<path d="M0 0a0 5 0 0110 3"/>', (0, 0, 10, 3)),
        ('<path d="M0 0a-5-5 0 0110 0"/>', (0, -5, 10, 0)),
        ('<path d="M0 0a5 5 0 11 0 0 L 3 4"/>', (0, 0, 3, 4)),
        ('<path d="M 1 1 h 4 z l 2 2"/>', (1, 1, 5, 3)),
        ('<path d="M1 1h4\n\tv3,z"/>', None),
        ('<path d="  M1,1,h4 v3z  "/>', None),
    ],
)
def test_bounds(content: str, bounds: tuple | None) -> None:
    if bounds is None:
        assert remark(read_cut(content)).kind == "unreadable"
    else:
        assert box(only(read_cut(content))) == pytest.approx(bounds, abs=FLATNESS)


@pytest.mark.parametrize(
    ("length", "mm"),
    [
        ("96", 25.4),
        ("96px", 25.4),
        ("1in", 25.4),
        ("25.4mm", 25.4),
        ("2.54cm", 25.4),
        ("101.6q", 25.4),
        ("72pt", 25.4),
        ("6pc", 25.4),
        (" 9.6e1PX ", 25.4),
        ("10%", 21.0),
    ],
)
def test_units(length: str, mm: float) -> None:
    shape = only(read_cut(f'<rect width="{length}" height="1mm"/>', PX))
    assert box(shape)[2] == pytest.approx(mm)


def test_units_stand_in_the_user_space_of_their_place() -> None:
    # one user unit is 1 mm here, and 1 mm is 96 / 25.4 user units
    assert box(only(read_cut('<rect width="1mm" height="1"/>')))[2] == pytest.approx(96 / 25.4)


@pytest.mark.parametrize(
    ("rx", "cut"),
    [
        ('rx="2"', 4 * (1 - math.pi / 4) * 4),
        ('rx="3" ry="2"', 4 * (1 - math.pi / 4) * 6),
        ('ry="2"', 4 * (1 - math.pi / 4) * 4),
        ('rx="9" ry="1"', 4 * (1 - math.pi / 4) * 5),
        ('rx="0" ry="3"', 0.0),
        ('rx="auto" ry="auto"', 0.0),
    ],
)
def test_rounded_corners(rx: str, cut: float) -> None:
    shape = only(read_cut(f'<rect width="10" height="10" {rx}/>'))
    assert area(shape).area == pytest.approx(100 - cut, abs=0.05)
    assert shape.contours[0].closed
    assert (shape.contours[0].turns.max() == 0.0) == (cut > 0.0)


@pytest.mark.parametrize(
    ("transform", "place"),
    [
        ("translate(5)", (6, 2)),
        ("translate(5,7)", (6, 9)),
        ("scale(2)", (2, 4)),
        ("scale(2 -3)", (2, -6)),
        ("rotate(90)", (-2, 1)),
        ("rotate(180, 5, 5)", (9, 8)),
        ("skewX(45)", (3, 2)),
        ("skewY(45)", (1, 3)),
        ("matrix(1 2 3 4 5 6)", (12, 16)),
        ("translate(5,7) scale(2)", (7, 11)),
        (" translate( 5 , 7 ),scale(2)\n", (7, 11)),
        ("none", (1, 2)),
        ("", (1, 2)),
    ],
)
def test_transforms(transform: str, place: tuple[float, float]) -> None:
    shape = only(read_cut(f'<path transform="{transform}" d="M1 2L90 7"/>'))
    assert shape.contours[0].points[0] == pytest.approx(place)


@pytest.mark.parametrize(
    "d", ["M5 5A30 20 25 1 0 40 30", "M0 0C90 0 10 80 80 80", "M0 0Q80 0 9 50"]
)
@pytest.mark.parametrize("scale", [0.01, 1.0, 30.0])
def test_curves_are_followed(d: str, scale: float) -> None:
    from svg.path import parse_path

    path = parse_path(d)
    points = only(read_cut(f'<path transform="scale({scale})" d="{d}"/>')).contours[0].points
    exact = np.array([path[1].point(t) * scale for t in np.linspace(0, 1, 2000)])
    chain = points[:, 0] + 1j * points[:, 1]
    a, b = chain[:-1, None], chain[1:, None]
    along = np.clip(((exact - a) * (b - a).conj()).real / abs(b - a) ** 2, 0, 1)
    assert abs(exact - (a + along * (b - a))).min(axis=0).max() < FLATNESS * 1.01


def test_turns_are_those_of_nodes() -> None:
    contour = only(read_cut('<path d="M0 0H10V10A5 5 0 0 1 0 10C0 5 0 5 5 5"/>')).contours[0]
    turns = contour.turns
    assert not contour.closed
    assert len(turns) == len(contour.points)
    assert turns[0] == turns[-1] == 0.0
    assert turns[1] == pytest.approx(90)
    assert np.count_nonzero(turns) == 1  # the arc begins and ends downwards, the curve goes up


def test_turns_of_a_closed_path() -> None:
    contour = only(read_cut('<path d="M0 0H10V10z"/>')).contours[0]
    assert contour.closed
    assert len(contour.points) == 3
    assert contour.turns == pytest.approx([135, 90, 135])


def test_closing_on_the_first_point_repeats_nothing() -> None:
    contour = only(read_cut('<path d="M0 0H10V10L0 0z"/>')).contours[0]
    assert len(contour.points) == 3
    assert contour.turns == pytest.approx([135, 90, 135])


def test_an_open_path_that_ends_where_it_begins_keeps_its_last_point() -> None:
    contour = only(read_cut('<path d="M0 0H10V10L0 0"/>')).contours[0]
    assert not contour.closed
    assert len(contour.points) == 4


def test_a_turn_back_is_180_degrees() -> None:
    assert only(read_cut('<path d="M0 0H10H5"/>')).contours[0].turns == pytest.approx([0, 180, 0])


def test_subpaths() -> None:
    shape = only(read_cut('<path d="M0 0H9V9zM2 2h1v1z m 3 3 h1 M4 4"/>'))
    assert [c.closed for c in shape.contours] == [True, True, False]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ('<path d="M 1 2 L nan 4"/>', "breaks off at L nan 4"),
        ('<path d="M 1 2 L inf 4"/>', "L inf 4"),
        ('<path d="M 1 2 L 3"/>', "L 3"),
        ('<path d="M 1 2 L 3 4 5 x"/>', "L 3 4 5 x"),
        ('<path d="M 1 2 L 3,,4"/>', "L 3,,4"),
        ('<path d="M 1 2 3 4,"/>', "M 1 2 3 4,"),
        ('<path d="M 1 2 A 5 5 0 2 0 1 1"/>', "A 5 5 0 2 0 1 1"),
        ('<path d="M 1 2 A 5 5 0 1 0 1"/>', "A 5 5 0 1 0 1"),
        ('<path d="M 1 2 Z 4 5"/>', "Z 4 5"),
        ('<path d="L 1 2"/>', "begins with L 1 2"),
        ('<path d="rubbish"/>', "begins with rubbish"),
        ('<path d="M 1 2 L 1_0 4"/>', "L 1_0 4"),
        ('<path d="M 1 2 L ١ 4"/>', "L ١ 4"),
        ('<path d="M 1 2 L 1e999 4"/>', "too large"),
        ('<path d="M 1 2 L 1e12 4"/>', "too large"),
        ('<path d="M 1 2 A 1e-320 1e-320 0 1 0 1 1"/>', "cannot be used"),
        ('<rect x="1" y="2" width="ten" height="4"/>', "width is ten"),
        ('<rect x="1" y="2" width="2em" height="4"/>', "width is 2em"),
        ('<rect x="1" y="2" width="-3" height="4"/>', "negative"),
        ('<circle cx="1" cy="2" r="-3"/>', "negative"),
        ('<circle cx="1" cy="2" r="nan"/>', "r is nan"),
        ('<polygon points="1 2 3 4 5"/>', "odd"),
        ('<polygon points="1 2 3 4 x 6"/>', "no number"),
        ('<rect x="1" y="2" width="3" height="3" transform="rotat(3)"/>', "transform"),
        ('<rect x="1" y="2" width="3" height="3" transform="rotate(3"/>', "transform"),
        ('<rect x="1" y="2" width="3" height="3" transform="scale(1e999)"/>', "transform"),
        ('<rect x="1" y="2" width="3" height="3" transform="matrix(1 2 3)"/>', "transform"),
        ('<rect x="1" y="2" width="3" height="3" transform="scale(nan)"/>', "transform"),
    ],
)
def test_unreadable(content: str, words: str) -> None:
    found = remark(read_cut(content.replace("/>", ' id="odd"/>')))
    assert (found.kind, found.id, found.has_id, found.role) == (
        "unreadable",
        "odd",
        True,
        "die-cut",
    )
    assert words in found.detail
    assert found.at is None or found.at[0] == pytest.approx(1, abs=3)


@pytest.mark.parametrize(
    "content",
    [
        '<rect width="0" height="5"/>',
        '<rect height="5"/>',
        '<circle r="0"/>',
        '<ellipse rx="3" ry="0"/>',
        "<ellipse/>",
        '<line x1="3" x2="3"/>',
        "<path/>",
        '<path d=""/>',
        '<path d="none"/>',
        '<path d="M3 4"/>',
        '<path d="M3 4z"/>',
        '<polygon points="1 1"/>',
        "<polyline/>",
    ],
)
def test_no_size(content: str) -> None:
    assert remark(read_cut(content)).kind == "no-size"


@pytest.mark.parametrize(
    "content",
    [
        '<rect width="3" height="3" transform="scale(0)"/>',
        '<rect width="3" height="3" transform="scale(0,1)"/>',
        '<g transform="matrix(1 1 1 1 0 0)"><rect width="3" height="3"/></g>',
    ],
)
def test_flat(content: str) -> None:
    assert remark(read_cut(content)).kind == "flat"


def test_a_long_bad_path_fails_at_once() -> None:
    import time

    start = time.process_time()
    found = remark(read_cut(f'<path d="M{"1" * 50_000}{" 1" * 50_001},x"/>'))
    assert found.kind == "unreadable"
    assert time.process_time() - start < 1.0


def test_one_bad_object_does_not_spoil_its_neighbours() -> None:
    drawing = read_cut('<path d="M0 0H1e9"/><rect width="2" height="3"/><path d="M0 0L5 5"/>')
    assert [s.tag for s in drawing.shapes] == ["rect", "path"]
    assert box(drawing.shapes[0]) == pytest.approx((0, 0, 2, 3))
    assert box(drawing.shapes[1]) == pytest.approx((0, 0, 5, 5))


def test_no_more_points_than_needed() -> None:
    # a chord of 2 arccos(1 - 0.005 / r) is within 0.005 mm
    for transform, radius in (("", 10.0), ("scale(0.5,2)", 20.0), ("rotate(30) scale(1,-1)", 10.0)):
        shape = only(read_cut(f'<circle r="10" transform="{transform}"/>'))
        needed = math.pi / math.acos(1 - FLATNESS / radius)
        assert needed <= len(shape.contours[0].points) < needed + 1
