"""Panels, openings and loose pieces from outlines as makers draw them."""

from __future__ import annotations

from math import cos, pi, sin

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from underlit.geometry.areas import EMPTY
from underlit.interpretation.outlines import Outlines, read_outlines
from underlit.model.drawing import Contour, Page, Shape
from unit.build import PAGE, backwards, circle, contour, line, rectangle, shape, window

PANEL = shape("die-cut", rectangle(10, 10, 100, 150), "panel")


def cut(contours: Contour | list[Contour], id: str = "window", **more: object) -> Shape:
    return shape("die-cut", contours, id, **more)  # type: ignore[arg-type]


def read(*shapes: Shape, diffuser: BaseGeometry = EMPTY, page: Page = PAGE) -> Outlines:
    return read_outlines(shapes, page, diffuser)


def names(outlines: Outlines) -> list[str]:
    return [opening.name for opening in outlines.openings]


def codes(outlines: Outlines) -> list[str]:
    return [finding.rule for finding in outlines.findings]


def heart(x: float, y: float) -> Contour:
    """A heart about 30 mm wide with its cleft at the top, as a flattened curve."""
    steps = [2 * pi * k / 120 for k in range(120)]
    return contour(
        [
            (
                x + 16 * sin(t) ** 3,
                y - (13 * cos(t) - 5 * cos(2 * t) - 2 * cos(3 * t) - cos(4 * t)),
            )
            for t in steps
        ],
        turns=[0.0] * 120,
    )


def test_empty_layer() -> None:
    found = read()
    assert found.panels == found.openings == found.loose == found.findings == ()


def test_a_panel_with_two_windows() -> None:
    found = read(PANEL, cut(rectangle(60, 20, 10, 10), "b"), cut(rectangle(20, 20, 10, 10), "a"))
    assert [panel.object for panel in found.panels] == ["panel"]
    assert found.panels[0].outline.equals(shapely.box(10, 10, 110, 160))
    assert [(o.number, o.name, o.object) for o in found.openings] == [(1, "a", "a"), (2, "b", "b")]
    assert found.openings[0].at == (25, 25)
    assert found.openings[1].outline.equals(shapely.box(60, 20, 70, 30))
    assert {o.panel for o in found.openings} == {0}
    assert not found.findings


def test_windows_drawn_before_the_panel_count_the_same() -> None:
    found = read(cut(rectangle(20, 20, 10, 10), "a"), PANEL)
    assert (len(found.panels), names(found)) == (1, ["a"])


@pytest.mark.parametrize("rule", ["nonzero", "evenodd"])
@pytest.mark.parametrize("turn", [False, True])
def test_compound_path_of_either_direction(rule: str, turn: bool) -> None:
    inner = [rectangle(20, 20, 10, 10), rectangle(40, 20, 10, 10)]
    inner = [backwards(c) for c in inner] if turn else inner
    found = read(cut([rectangle(10, 10, 100, 150), *inner], "card", rule=rule))
    assert len(found.panels) == 1
    assert names(found) == ["card#1", "card#2"]
    assert not found.findings


@pytest.mark.parametrize("paint", [{"stroke": 0.3}, {"filled": False}, {"filled": True}])
def test_paint_does_not_count(paint: dict[str, object]) -> None:
    found = read(PANEL, cut(rectangle(20, 20, 10, 10), **paint))
    assert found.openings[0].outline.area == pytest.approx(100.0)


def test_heart_and_ring_shapes() -> None:
    found = read(PANEL, cut(heart(60, 60), "heart"), cut([circle(60, 120, 15), circle(60, 120, 8)]))
    assert names(found) == ["heart", "window"]
    assert found.openings[0].outline.contains(shapely.Point(found.openings[0].at))
    assert [piece.name for piece in found.loose] == ["window"]


def test_letter_counters_to_depth_three() -> None:
    rings = [circle(60, 60, r) for r in (20, 15, 10, 5)]
    found = read(PANEL, cut(rings, "target"))
    assert names(found) == ["target#1", "target#2"]
    assert [o.outline.area for o in found.openings] == pytest.approx(
        [pi * 400, pi * 100], rel=0.005
    )
    assert [(piece.name, piece.opening) for piece in found.loose] == [
        ("target#1", 0),
        ("target#2", 1),
    ]
    assert codes(found) == ["loose-piece"]


def test_hundred_nested_rings() -> None:
    found = read(cut([circle(100, 100, 99.5 - 0.9 * k) for k in range(100)], "rings"))
    assert len(found.panels) == 1
    assert (len(found.openings), len(found.loose)) == (50, 49)


def test_several_panels() -> None:
    found = read(
        cut(rectangle(100, 10, 80, 80), "right"),
        cut(rectangle(10, 10, 80, 80), "left"),
        cut(rectangle(20, 20, 10, 10), "a"),
        cut(rectangle(110, 20, 10, 10), "b"),
    )
    assert [panel.object for panel in found.panels] == ["right", "left"]
    assert [(o.name, o.panel) for o in found.openings] == [("a", 1), ("b", 0)]


def test_panels_side_by_side_stay_two() -> None:
    found = read(cut(rectangle(10, 10, 80, 80), "a"), cut(rectangle(90, 10, 80, 80), "b"))
    assert [panel.object for panel in found.panels] == ["a", "b"]
    assert found.notches == 0


# --- closing -----------------------------------------------------------------------------


@pytest.mark.parametrize(("gap", "closed"), [(0.04, True), (0.05, True), (0.07, False)])
def test_ends_within_five_hundredths_close(gap: float, closed: bool) -> None:
    ends = line((20, 20), (30, 20), (30, 30), (20, 30), (20, 20 + gap))
    assert len(read(PANEL, cut(ends)).openings) == closed


def test_clip_cuts_the_outline() -> None:
    found = read(PANEL, cut(rectangle(20, 20, 20, 20), clip=window(0, 0, 30, 100)))
    assert found.openings[0].outline.area == pytest.approx(200.0)


# --- specks and the page -----------------------------------------------------------------


@pytest.mark.parametrize(("side", "kept"), [(1.39, False), (2**0.5, True), (1.44, True)])
def test_specks_under_two_square_millimetres(side: float, kept: bool) -> None:
    found = read(PANEL, cut(rectangle(20, 20, side, side)))
    assert (len(found.openings), found.specks) == (kept, not kept)


def test_thin_slit_just_under_the_limit_is_a_speck() -> None:
    assert read(PANEL, cut(rectangle(20, 20, 19.9, 0.1))).specks == 1


def test_round_speck_gets_its_due_for_flattening() -> None:
    radius = (2 / pi) ** 0.5
    found = read(PANEL, cut(circle(30, 30, radius, points=29)))
    assert (len(found.openings), found.specks) == (1, 0)


@pytest.mark.parametrize(("off", "page"), [(0.0, True), (0.1, True), (-0.1, True), (0.15, False)])
def test_outline_equal_to_the_page_is_ignored(off: float, page: bool) -> None:
    frame = rectangle(off, off, 200 - 2 * off, 200 - 2 * off)
    found = read(cut(frame, "frame"), PANEL, cut(rectangle(20, 20, 10, 10)))
    assert [p.object for p in found.panels] == (["panel"] if page else ["frame"])


def test_page_frame_does_not_swallow_a_panel_just_inside() -> None:
    panel = cut(rectangle(0.4, 0.4, 199.2, 199.2), "panel")
    found = read(cut(rectangle(0, 0, 200, 200), "frame"), panel)
    assert [p.object for p in found.panels] == ["panel"]


def test_other_outline_with_the_bounds_of_the_page_is_kept() -> None:
    found = read(cut(circle(100, 100, 100), "round"))
    assert [p.object for p in found.panels] == ["round"]


def test_panel_as_large_as_the_page_counts_when_marked() -> None:
    found = read(cut(rectangle(0, 0, 200, 200), "p", part="panel"), cut(circle(50, 50, 9), "a"))
    assert [p.object for p in found.panels] == ["p"]
    assert names(found) == ["a"]


def test_a_page_frame_round_a_large_panel_with_windows_is_not_doubtful() -> None:
    frame = cut(rectangle(0, 0, 200, 200), "frame")
    found = read(frame, PANEL, cut(rectangle(20, 20, 10, 10)))
    assert (found.frames, found.frame_doubtful, codes(found)) == (("frame",), False, [])


@pytest.mark.parametrize("windows", [0, 1, 3])
def test_a_page_frame_that_may_be_the_panel_is_asked_about(windows: int) -> None:
    frame = cut(rectangle(0, 0, 200, 200), "frame")
    found = read(frame, *(cut(circle(40 + 40 * k, 50, 9), f"w{k}") for k in range(windows)))
    assert len(found.panels) == windows
    assert (found.frames, found.frame_doubtful) == (("frame",), True)
    (finding,) = found.findings
    assert (finding.rule, finding.severity, finding.objects) == (
        "object-skipped",
        "note",
        ("frame",),
    )


def test_a_back_sheet_as_large_as_the_page_speaks_for_a_panel() -> None:
    base = shapely.box(2, 2, 198, 198)
    frame = cut(rectangle(0, 0, 200, 200), "frame")
    window = [cut(circle(100, 100, 70), "ring"), cut(circle(100, 100, 20), "hole")]
    assert not read_outlines([frame, *window], PAGE, EMPTY).frame_doubtful
    assert read_outlines([frame, *window], PAGE, EMPTY, base).frame_doubtful
    inner = cut(rectangle(3, 3, 194, 194), "panel")
    assert not read_outlines([frame, inner, *window], PAGE, EMPTY, base).frame_doubtful


def test_a_frame_is_never_doubtful_beside_a_marked_panel() -> None:
    frame = cut(rectangle(0, 0, 200, 200), "frame")
    found = read(frame, cut(rectangle(10, 10, 30, 30), "p", part="panel"))
    assert not found.frame_doubtful
    assert not found.findings


# --- marked panels -----------------------------------------------------------------------


def test_marked_panel_leaves_out_what_lies_outside() -> None:
    found = read(
        cut(rectangle(2, 2, 190, 190), "frame"),
        shape("die-cut", rectangle(10, 10, 100, 150), "panel", part="panel"),
        cut(rectangle(20, 20, 10, 10), "a"),
        cut(rectangle(150, 20, 10, 10), "outside"),
        cut(rectangle(5, 80, 10, 10), "notch"),
    )
    assert [p.object for p in found.panels] == ["panel"]
    assert names(found) == ["a"]
    assert found.panels[0].outline.area == pytest.approx(15000 - 50)


def test_marked_compound_path_keeps_its_holes() -> None:
    found = read(cut([rectangle(10, 10, 100, 100), circle(50, 50, 9)], "card", part="panel"))
    assert (len(found.panels), names(found)) == (1, ["card"])


def test_marked_panel_is_cut_even_by_a_larger_outline() -> None:
    found = read(
        shape("die-cut", rectangle(10, 10, 50, 50), "panel", part="panel"),
        cut(rectangle(50, 0, 100, 100), "big"),
    )
    assert [p.object for p in found.panels] == ["panel"]
    assert found.panels[0].outline.equals(shapely.box(10, 10, 50, 60))


# --- crossing ----------------------------------------------------------------------------


def test_crossing_openings_are_one() -> None:
    found = read(PANEL, cut(rectangle(20, 20, 10, 10), "a"), cut(rectangle(25, 25, 10, 10), "b"))
    assert names(found) == ["a"]
    assert found.openings[0].outline.area == pytest.approx(175.0)
    assert not found.findings


def test_chain_of_crossing_openings_is_one_and_keeps_pieces() -> None:
    found = read(
        PANEL,
        cut(circle(30, 50, 8), "a"),
        cut(circle(43, 50, 8), "b"),
        cut(circle(56, 50, 8), "c"),
        cut(circle(56, 50, 1.5), "piece"),
    )
    assert names(found) == ["a"]
    assert [piece.object for piece in found.loose] == ["piece"]


@pytest.mark.parametrize(("gap", "number"), [(0.0, 1), (0.5, 2)])
def test_openings_without_paper_between_are_one(gap: float, number: int) -> None:
    found = read(
        PANEL, cut(rectangle(20, 20, 10, 10), "a"), cut(rectangle(30 + gap, 20, 10, 10), "b")
    )
    assert len(found.openings) == number
    assert found.openings[0].outline.geom_type == "Polygon"


def test_openings_that_touch_at_a_corner_stay_two() -> None:
    found = read(PANEL, cut(rectangle(20, 20, 10, 10), "a"), cut(rectangle(30, 30, 10, 10), "b"))
    assert names(found) == ["a", "b"]


def test_notch_cuts_the_panel_and_is_no_opening() -> None:
    found = read(PANEL, cut(rectangle(5, 80, 20, 10), "notch"), cut(rectangle(40, 80, 9, 9), "a"))
    assert names(found) == ["a"]
    assert found.notches == 1
    assert len(found.panels) == 1
    assert found.panels[0].outline.area == pytest.approx(15000 - 150)


def test_opening_along_the_edge_is_a_notch() -> None:
    found = read(PANEL, cut(rectangle(10, 80, 20, 10), "notch"))
    assert (found.openings, found.notches) == ((), 1)
    assert found.panels[0].outline.area == pytest.approx(15000 - 200)


def test_opening_that_crosses_a_notch_is_part_of_it() -> None:
    found = read(PANEL, cut(rectangle(5, 80, 20, 10), "n"), cut(rectangle(20, 84, 20, 2), "slot"))
    assert (found.openings, found.notches) == ((), 1)
    assert found.panels[0].outline.area == pytest.approx(15000 - 150 - 30)


def test_crossing_pieces_are_cut_like_panels() -> None:
    found = read(
        PANEL,
        cut(rectangle(20, 20, 60, 60), "hole"),
        cut(rectangle(30, 30, 20, 20), "piece"),
        cut(rectangle(45, 35, 10, 5), "bite"),
    )
    assert names(found) == ["hole"]
    assert [piece.object for piece in found.loose] == ["piece"]
    assert found.loose[0].outline.area == pytest.approx(400 - 25)


# --- through -----------------------------------------------------------------------------


def test_through_is_an_opening_outside_the_nesting() -> None:
    found = read(
        PANEL,
        cut(rectangle(20, 20, 40, 40), "moon", glow="through"),
        cut(rectangle(30, 30, 10, 10), "a"),
        cut(rectangle(150, 30, 10, 10), "off", glow="through"),
    )
    assert [(o.name, o.through, o.panel) for o in found.openings if o.name != "off"] == [
        ("a", False, 0),
        ("moon", True, 0),
    ]
    assert found.loose == ()
    assert found.panels[0].outline.area == pytest.approx(15000)
    assert next(o for o in found.openings if o.name == "off").panel is None


def test_through_ring_and_specks() -> None:
    ring = cut([circle(50, 50, 10), circle(50, 50, 5)], "ring", glow="through", rule="evenodd")
    found = read(PANEL, ring, cut(rectangle(30, 90, 1, 1), "dot", glow="through"))
    assert names(found) == ["ring"]
    assert found.openings[0].outline.area == pytest.approx(pi * 75, rel=0.01)
    assert found.specks == 1
    x, y = found.openings[0].at
    assert 5 < ((x - 50) ** 2 + (y - 50) ** 2) ** 0.5 < 10


# --- names and order ---------------------------------------------------------------------


def test_clones_that_share_an_id_are_numbered_by_place() -> None:
    places = [(60, 100), (30, 40), (60, 40)]
    found = read(PANEL, *(cut(circle(x, y, 5), "clone") for x, y in places))
    assert [(o.name, round(o.at[0]), round(o.at[1])) for o in found.openings] == [
        ("clone#1", 30, 40),
        ("clone#2", 60, 40),
        ("clone#3", 60, 100),
    ]


@pytest.mark.parametrize(("step", "first"), [(0.04, "left"), (0.05, "left"), (0.06, "right")])
def test_same_row_within_five_hundredths(step: float, first: str) -> None:
    found = read(
        PANEL,
        cut(rectangle(60, 20, 10, 10), "right"),
        cut(rectangle(20, 20 + step, 10, 10), "left"),
    )
    assert names(found)[0] == first


def test_order_does_not_depend_on_the_drawing_order() -> None:
    shapes = [cut(circle(20 + 12 * (k % 7), 30 + 15 * (k // 7), 4), f"w{k}") for k in range(35)]
    forward, back = read(PANEL, *shapes), read(*reversed(shapes), PANEL)
    assert names(forward) == names(back) == [f"w{k}" for k in range(35)]


def test_a_mirrored_drawing_is_read_in_its_own_order() -> None:
    flipped = [
        Shape(**{**vars(s), "contours": tuple(_flip(c) for c in s.contours)})
        for s in (PANEL, cut(circle(40, 30, 5), "upper"), cut(circle(40, 90, 5), "lower"))
    ]
    assert names(read(*flipped)) == ["lower", "upper"]


def _flip(outline: Contour) -> Contour:
    return contour([(x, 200 - y) for x, y in outline.points])


@pytest.mark.slow
def test_a_thousand_openings_are_all_found() -> None:
    shapes = [
        cut(circle(20 + 12 * (k % 40), 20 + 12 * (k // 40), 4, points=10), f"w{k}")
        for k in range(1000)
    ]
    shapes.append(cut(rectangle(5, 5, 600, 400), "panel"))
    assert [opening.number for opening in read(*shapes).openings] == list(range(1, 1001))
