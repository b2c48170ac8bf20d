"""Double lines, gaps, score lines, self-crossings, loose pieces: what is said and counted."""

from __future__ import annotations

from math import cos, pi, sin

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from underlit.geometry.areas import EMPTY
from underlit.interpretation.outlines import Outlines, read_outlines
from underlit.model.drawing import Contour, Shape
from unit.build import PAGE, backwards, circle, contour, line, rectangle, shape

PANEL = shape("die-cut", rectangle(10, 10, 100, 150), "panel")


def cut(contours: Contour | list[Contour], id: str = "window", **more: object) -> Shape:
    return shape("die-cut", contours, id, **more)  # type: ignore[arg-type]


def read(*shapes: Shape, diffuser: BaseGeometry = EMPTY) -> Outlines:
    return read_outlines(shapes, PAGE, diffuser)


# --- double lines ------------------------------------------------------------------------


@pytest.mark.parametrize(("gap", "double"), [(0.3, True), (0.6, True), (0.65, False)])
def test_double_line_of_a_round_window(gap: float, double: bool) -> None:
    found = read(PANEL, cut([circle(50, 50, 10), circle(50, 50, 10 - gap)]))
    assert found.doubled == double
    assert len(found.openings) == 1
    assert len(found.loose) == (not double)
    assert found.openings[0].outline.area == pytest.approx(100 * pi, rel=0.002)
    assert [f.rule for f in found.findings] == ["outline-doubled" if double else "loose-piece"]


@pytest.mark.parametrize(("gap", "double"), [(0.3, True), (0.6, True), (0.65, False)])
def test_double_line_of_a_panel_keeps_the_outer_one(gap: float, double: bool) -> None:
    inner = rectangle(10 + gap, 10 + gap, 100 - 2 * gap, 150 - 2 * gap)
    found = read(cut([rectangle(10, 10, 100, 150), backwards(inner)], "p"), cut(circle(50, 50, 9)))
    assert [p.object for p in found.panels] == ["p"]
    assert found.panels[0].outline.equals(shapely.box(10, 10, 110, 160))
    assert (found.doubled == 1) == double
    assert [o.name for o in found.openings] == (["window"] if double else ["p"])


def test_stroke_to_path_of_a_whole_card() -> None:
    pairs = [circle(50, 50, r) for r in (12.1, 11.9)] + [circle(50, 50, r) for r in (6.1, 5.9)]
    found = read(
        cut([rectangle(9.9, 9.9, 100.2, 100.2), rectangle(10.1, 10.1, 99.8, 99.8)], "p"),
        cut(pairs, "o"),
    )
    assert (len(found.panels), len(found.openings), len(found.loose)) == (1, 1, 1)
    assert found.openings[0].name == "o"
    assert found.doubled == 3
    notes = [f for f in found.findings if f.rule == "outline-doubled"]
    assert [(f.objects, f.severity, f.message) for f in notes] == [
        (("p",), "note", "This outline is drawn twice."),
        (("o",), "note", "2 outlines of this object are drawn twice."),
    ]


def test_double_line_with_mitred_and_rounded_star_tips() -> None:
    def star(scale: float) -> Contour:
        radii = [20, 8]
        return contour(
            [
                (
                    60 + scale * radii[k % 2] * sin(k * pi / 5),
                    60 - scale * radii[k % 2] * cos(k * pi / 5),
                )
                for k in range(10)
            ]
        )

    outer = shapely.Polygon(star(1.0).points)
    for join in ("mitre", "round"):
        inner = outer.buffer(-0.5, join_style=join)
        line_of_it = contour(list(inner.exterior.coords)[:-1])
        found = read(PANEL, cut([star(1.0), line_of_it]))
        assert (found.doubled, len(found.openings), len(found.loose)) == (1, 1, 0)


def test_double_line_of_a_slot_thinner_than_the_distance() -> None:
    found = read(PANEL, cut([rectangle(30, 30, 20, 1), rectangle(30.2, 30.2, 19.6, 0.6)], "slot"))
    assert (found.doubled, len(found.openings), len(found.loose)) == (1, 1, 0)


def test_triple_line_is_one() -> None:
    found = read(PANEL, cut([circle(50, 50, r) for r in (10, 9.5, 9.0)]))
    assert (found.doubled, len(found.openings), len(found.loose)) == (2, 1, 0)


def test_coincident_outlines_count_once() -> None:
    found = read(PANEL, cut(circle(50, 50, 9), "a"), cut(backwards(circle(50, 50, 9)), "b"))
    assert [o.name for o in found.openings] == ["a"]
    assert (found.coincident, found.doubled) == (1, 0)
    assert found.findings[0].objects == ("a", "b")


def test_shifted_copy_is_a_double_line_although_it_crosses() -> None:
    found = read(PANEL, cut(circle(50, 50, 9), "a"), cut(circle(50.3, 50, 9), "b"))
    assert (found.doubled, len(found.openings)) == (1, 1)


def test_slot_along_the_edge_is_no_double_line() -> None:
    # within 0.6 mm of the panel's edge all along, but the panel is much more than that
    found = read(PANEL, cut(rectangle(10.1, 30, 0.4, 50), "slot"))
    assert found.doubled == 0
    assert [o.name for o in found.openings] == ["slot"]


def test_flags_of_the_line_left_out_still_count() -> None:
    found = read(
        cut(rectangle(2, 2, 180, 190), "frame"),
        cut(rectangle(10, 10, 100, 100), "outer"),
        cut(rectangle(10.3, 10.3, 99.4, 99.4), "inner", part="panel"),
    )
    assert [p.object for p in found.panels] == ["outer"]


def test_small_windows_in_rows_are_no_double_lines() -> None:
    found = read(PANEL, *(cut(circle(20 + 2 * k, 50, 0.9), f"w{k}") for k in range(30)))
    assert (found.doubled, len(found.openings)) == (0, 30)


# --- open lines --------------------------------------------------------------------------


def nearly(gap: float, x: float = 20) -> Contour:
    return line((x, 20), (x + 10, 20), (x + 10, 30), (x, 30), (x, 20 + gap))


@pytest.mark.parametrize(("gap", "said"), [(0.3, "0.3"), (0.99, "0.99"), (0.07, "0.07")])
def test_small_gap_is_marked_at_the_gap(gap: float, said: str) -> None:
    found = read(PANEL, cut(nearly(gap)))
    (finding,) = found.findings
    assert (finding.rule, finding.severity) == ("outline-open", "note")
    assert finding.at == pytest.approx((20, 20 + gap / 2))
    assert f"has a {said} mm gap here" in finding.message
    assert finding.remedy == "Close it with the node tool."
    assert found.scores == 0


def test_gap_of_a_millimetre_is_a_score_line() -> None:
    found = read(PANEL, cut(nearly(1.0)))
    assert found.scores == 1
    assert "score or pen line" in found.findings[0].message


def test_every_gap_has_its_own_note_and_score_lines_share_one() -> None:
    found = read(
        PANEL,
        cut(nearly(0.2, 20), "a"),
        cut(nearly(0.4, 40), "b"),
        cut(line((60, 90), (90, 90)), "s"),
        cut([line((60, 80), (90, 80)), line((60, 70), (90, 70))], "t"),
    )
    assert [(f.rule, f.objects) for f in found.findings] == [
        ("outline-open", ("a",)),
        ("outline-open", ("b",)),
        ("outline-open", ("s", "t")),
    ]
    assert found.findings[2].at == pytest.approx((75, 70))
    assert found.findings[2].message.startswith("3 lines on the panel")
    assert found.scores == 3


def test_short_dash_is_no_gap() -> None:
    found = read(PANEL, cut(line((20, 20), (20.4, 20), (20.8, 20))))
    assert found.scores == 1


def test_lines_outside_every_panel_mean_nothing() -> None:
    assert read(PANEL, cut(line((120, 20), (150, 20)))).findings == ()


def test_open_panel_is_marked() -> None:
    found = read(cut(nearly(0.3), "p"))
    assert found.panels == ()
    assert found.findings[0].message.startswith("This outline has a 0.3 mm gap here")


# --- self-crossing -----------------------------------------------------------------------


def loop(size: float) -> Contour:
    """A closed outline that ends in a small loop which goes round twice."""
    return contour(
        [
            (50, 50),
            (50 + size, 50),
            (50 + size, 50 + size),
            (50, 50 + size),
            (50, 50),
            (70, 50),
            (70, 70),
            (50, 70),
        ]
    )


@pytest.mark.parametrize(("size", "stop"), [(0.09, False), (0.1, False), (0.11, True)])
def test_self_crossing_starts_above_a_hundredth(size: float, stop: bool) -> None:
    found = read(PANEL, cut(loop(size)))
    assert [f.rule for f in found.findings] == ["outline-crosses-itself"] * stop
    assert len(found.openings) == 1
    assert found.openings[0].outline.is_valid


def test_self_crossing_is_marked_on_the_crossing() -> None:
    (finding,) = read(PANEL, cut(loop(4), "w")).findings
    assert (finding.severity, finding.objects) == ("stop", ("w",))
    assert finding.at == pytest.approx((50, 50), abs=4.01)
    assert "16.00 mm²" in finding.message


def test_nested_subpaths_of_one_direction_do_not_cross() -> None:
    found = read(cut([rectangle(10, 10, 90, 90), rectangle(30, 30, 20, 20)], rule="nonzero"))
    assert found.findings == ()


def test_figure_eight_is_mended_silently() -> None:
    eight = contour([(30, 30), (50, 50), (50, 30), (30, 50)])
    found = read(PANEL, cut(eight, "eight"))
    assert found.findings == ()
    assert [o.name for o in found.openings] == ["eight#1", "eight#2"]


def test_keyhole_outline_has_a_loose_middle() -> None:
    key = contour(
        [(30, 30), (60, 30), (60, 60), (30, 60), (30, 40), (40, 40), (40, 50), (50, 50), (50, 40),
         (30, 40)]
    )  # fmt: skip
    found = read(PANEL, cut(key))
    assert [f.rule for f in found.findings] == ["loose-piece"]
    assert found.loose[0].outline.area == pytest.approx(100)


# --- loose pieces ------------------------------------------------------------------------


def letters(number: int, **more: object) -> list[Shape]:
    return [
        cut([circle(20 + 12 * k, 50, 5), circle(20 + 12 * k, 50, 2)], f"letter{k}", **more)
        for k in range(number)
    ]


def test_all_pieces_of_a_panel_in_one_finding() -> None:
    (finding,) = read(PANEL, *reversed(letters(7))).findings
    assert (finding.rule, finding.severity) == ("loose-piece", "caution")
    assert finding.at == pytest.approx((20, 50))
    assert finding.objects == tuple(f"letter{k}" for k in range(7))
    assert finding.message == "7 loose pieces will fall out of their windows."
    assert finding.remedy.startswith("Glue them to the vellum")


def test_one_finding_for_each_panel() -> None:
    right = cut(rectangle(120, 10, 70, 150), "right")
    piece = cut([circle(150, 60, 9), circle(150, 60, 4)], "o")
    found = read(PANEL, right, piece, *letters(2))
    assert [f.objects for f in found.findings] == [("letter0", "letter1"), ("o",)]
    assert found.findings[1].message == "1 loose piece will fall out of its window."


def test_falling_piece_leaves_the_whole_window_open() -> None:
    (opening,) = read(PANEL, *letters(1)).openings
    assert opening.clear.equals(opening.outline)
    assert opening.at == pytest.approx((20, 50))


def test_glued_piece_stays_and_hides() -> None:
    found = read(PANEL, *letters(1, glued="true"))
    (opening,), (piece,) = found.openings, found.loose
    assert piece.stays
    assert found.findings == ()
    assert opening.outline.area == pytest.approx(25 * pi, rel=0.01)
    assert opening.clear.area == pytest.approx(21 * pi, rel=0.01)
    assert opening.clear.contains(shapely.Point(opening.at))


@pytest.mark.parametrize(("left", "stays"), [(15, True), (19.5, True), (20.5, False)])
def test_piece_that_lies_on_vellum_by_half_stays(left: float, stays: bool) -> None:
    found = read(PANEL, *letters(1), diffuser=shapely.box(left, 40, 40, 60))
    assert found.loose[0].stays == stays
    assert [f.rule for f in found.findings] == ["loose-piece"] * (not stays)


def test_a_glued_piece_that_nearly_fills_its_opening_is_no_double_line() -> None:
    """A lid 0.5 mm smaller than its window, with or without a double line of its own."""
    hole = cut(circle(60, 60, 12), "hole")
    for radii in ((11.5,), (11.5, 11.2)):
        lids = [cut(circle(60, 60, r), f"lid{r}", glued="true") for r in radii]
        found = read(PANEL, hole, *lids)
        assert [(p.object, p.stays) for p in found.loose] == [("lid11.5", True)]
        assert found.doubled == len(radii) - 1
        assert found.openings[0].clear.area < 40.0


def test_one_line_of_two_marked_as_glued_is_one_piece() -> None:
    """Its other line, not marked, is drawn round it; so is a copy on top of it."""
    rings = [cut(circle(60, 60, r), f"c{r}") for r in (30, 12.3)]
    for radius in (12, 12.3):
        lid = cut(circle(60, 60, radius), "lid", glued="true")
        found = read(PANEL, *rings, lid)
        assert [p.stays for p in found.loose] == [True]
        assert len(found.openings) == 1


def test_opening_in_a_glued_piece_is_clear() -> None:
    rings = [circle(60, 60, r) for r in (20, 15, 10)]
    found = read(PANEL, cut(rings[0], "a"), cut(rings[1], "b", glued="true"), cut(rings[2], "c"))
    clear = {o.name: round(o.clear.area / pi) for o in found.openings}
    assert clear == {"a": 175, "c": 100}


def test_piece_glued_inside_a_falling_one_still_hides() -> None:
    radii = {"a": 20, "b": 15, "c": 10, "d": 5}
    shapes = [
        cut(circle(60, 60, r), name, **({"glued": "true"} if name == "d" else {}))
        for name, r in radii.items()
    ]
    found = read(PANEL, *shapes)
    assert [(p.name, p.stays) for p in found.loose] == [("b", False), ("d", True)]
    assert [round(o.clear.area / pi) for o in found.openings] == [375, 75]


def test_glued_on_something_else_means_nothing() -> None:
    assert read(PANEL, cut(circle(60, 60, 9), glued="true")).openings[0].clear.area > 250


def test_findings_come_in_one_order_whatever_is_drawn_first() -> None:
    shapes = [PANEL, *letters(3), cut(nearly(0.3, 80), "gap"), cut(loop(4), "loop")]
    forward, back = read(*shapes), read(*reversed(shapes))
    assert {(f.rule, f.at) for f in forward.findings} == {(f.rule, f.at) for f in back.findings}
    assert len(forward.findings) == 3


def test_an_open_line_round_everything_is_named_as_no_panel() -> None:
    panel = cut(line((10, 10), (110, 10), (110, 160), (10, 160)), "edge")
    (finding,) = read(panel).findings
    assert (finding.rule, finding.severity) == ("outline-open", "note")
    assert finding.at == pytest.approx((10, 85))
    assert "150.0 mm" in finding.message
    small = cut(line((10, 10), (30, 10), (30, 20)), "corner")
    assert read(small).findings == ()
