"""Edges of drawn lines, and lines that close only together."""

from __future__ import annotations

import itertools
from math import cos, pi, sin

import pytest
import shapely
from shapely.geometry import Polygon

from underlit.geometry.areas import EMPTY
from underlit.interpretation.outlines import Outlines, read_outlines
from underlit.model.drawing import Contour, Shape
from unit.build import PAGE, circle, contour, line, rectangle, shape

PANEL = shape("die-cut", rectangle(10, 10, 150, 150), "panel")


def read(*shapes: Shape) -> Outlines:
    return read_outlines((PANEL, *shapes), PAGE, EMPTY)


def edge(area: Polygon) -> Contour:
    return contour(list(area.exterior.coords[:-1]))


def star(x: float, y: float, r: float, points: int = 5) -> Polygon:
    corners = [(r if k % 2 == 0 else 0.4 * r, pi * k / points) for k in range(2 * points)]
    return Polygon([(x + radius * cos(a), y + radius * sin(a)) for radius, a in corners])


def drawn(area: Polygon, pen: float, rounded: float) -> Shape:
    """Both edges of a line along an area's edge, drawn with a round pen; inner tips rounded."""
    outer = area.buffer(pen / 2)
    inner = area.buffer(-pen / 2 - rounded).buffer(rounded)
    return shape("die-cut", [edge(outer), edge(inner)], "line")


@pytest.mark.parametrize("area", [star(60, 60, 12), star(60, 60, 5), star(60, 60, 16, 8)])
@pytest.mark.parametrize("pen", [0.2, 0.4, 0.5])
def test_a_star_drawn_with_a_pen_is_one_opening(area: Polygon, pen: float) -> None:
    found = read(drawn(area, pen, 0.08))
    assert (len(found.openings), len(found.loose), found.doubled) == (1, 0, 1)


@pytest.mark.parametrize("pen", [0.2, 0.4, 0.6])
def test_a_star_stroked_with_mitred_corners_is_one_opening(pen: float) -> None:
    area = star(60, 60, 12)
    edges = [area.buffer(by, join_style="mitre", mitre_limit=9) for by in (pen / 2, -pen / 2)]
    found = read(shape("die-cut", [edge(area) for area in edges], "line"))
    assert (len(found.openings), len(found.loose), found.doubled) == (1, 0, 1)


def test_a_ray_of_fifteen_degrees_drawn_with_a_pen_is_one_opening() -> None:
    ray = Polygon([(40, 60), (80, 54.8), (80, 65.2)])
    found = read(drawn(ray, 0.4, 0.1))
    assert (len(found.openings), len(found.loose), found.doubled) == (1, 0, 1)


@pytest.mark.parametrize("width", [0.65, 0.8, 1.2])
def test_a_ring_wider_than_a_double_line_keeps_its_middle(width: float) -> None:
    found = read(shape("die-cut", [circle(60, 60, 12), circle(60, 60, 12 - width)], "ring"))
    assert (len(found.openings), len(found.loose), found.doubled) == (1, 1, 0)


@pytest.mark.parametrize("width", [0.7, 0.9])
def test_a_star_in_a_star_wider_than_a_double_line_is_a_piece(width: float) -> None:
    outer = star(60, 60, 15)
    inner = outer.buffer(-width, join_style="mitre", mitre_limit=20)
    found = read(shape("die-cut", [edge(outer), edge(inner)], "stars"))
    assert (len(found.openings), len(found.loose), found.doubled) == (1, 1, 0)


def test_an_eccentric_piece_is_no_double_line() -> None:
    found = read(shape("die-cut", [circle(60, 60, 12), circle(60.4, 60, 11.5)], "moon"))
    assert (len(found.loose), found.doubled) == (1, 0)


def test_a_short_piece_in_a_slot_is_no_double_line() -> None:
    found = read(shape("die-cut", [rectangle(40, 60, 12, 1.2), rectangle(43, 60.3, 6, 0.6)], "s"))
    assert (len(found.loose), found.doubled) == (1, 0)


def test_small_holes_close_together_are_no_double_lines() -> None:
    holes = [circle(40 + 1.9 * k, 60, 0.9) for k in range(20)]
    found = read(shape("die-cut", holes, "lace"))
    assert (len(found.openings), found.doubled) == (20, 0)


# --- lines that close only together -------------------------------------------------------


def sides(x: float, y: float, w: float, h: float, slack: float = 0.0) -> list[Shape]:
    """The four sides of a rectangle as separate lines, each `slack` too short at its end."""
    corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]
    return [
        shape("die-cut", line(a, (b[0] - slack * (b[0] > a[0]), b[1])), f"side-{x}-{n}")
        for n, (a, b) in enumerate(itertools.pairwise(corners))
    ]


def test_sides_that_meet_are_told_together() -> None:
    found = read(*sides(30, 40, 20, 20), *sides(70, 40, 20, 20))
    assert (len(found.openings), found.scores, found.chained, found.gaps) == (0, 8, 2, 0)
    (finding,) = found.findings
    assert (finding.rule, finding.severity, finding.at) == ("outline-open", "note", (30, 40))
    assert "8 lines make 2 outlines" in finding.message
    assert len(finding.objects) == 8


def test_a_panel_in_pieces_is_told_where_there_is_no_panel() -> None:
    found = read_outlines(sides(10, 10, 100, 150), PAGE, EMPTY)
    assert not found.panels
    assert found.scores == 0
    assert [f.rule for f in found.findings] == ["outline-open"]
    assert "4 lines make an outline" in found.findings[0].message


@pytest.mark.parametrize(("slack", "told"), [(0.04, True), (0.2, False)])
def test_ends_meet_within_the_gap_that_closes_a_line(slack: float, told: bool) -> None:
    found = read(*sides(30, 40, 20, 20, slack))
    assert ("only together" in found.findings[0].message) == told
    assert found.scores == 4


def test_score_lines_that_meet_without_going_round_stay_score_lines() -> None:
    found = read(*sides(30, 40, 20, 20)[:3], shape("die-cut", line((90, 30), (90, 90)), "far"))
    assert found.scores == 4
    assert "score or pen lines" in found.findings[0].message


def test_two_arcs_make_a_circle() -> None:
    ring = shapely.get_coordinates(shapely.Point(60, 60).buffer(10, quad_segs=8))[:-1]
    halves = [line(*ring[:17].tolist()), line(*[*ring[16:].tolist(), ring[0].tolist()])]
    found = read(*(shape("die-cut", half, f"arc-{n}") for n, half in enumerate(halves)))
    assert "2 lines make an outline" in found.findings[0].message
