"""Back sheet, foam, cover, diffuser; fold lines."""

from __future__ import annotations

from math import pi

import pytest
import shapely

from underlit.interpretation.sheets import fold_lines, read_sheets
from underlit.model.drawing import Contour, Shape
from unit.build import backwards, circle, contour, line, rectangle, shape


def drawn(contours: Contour | list[Contour], id: str = "sheet", **more: object) -> Shape:
    return shape("foam", contours, id, **more)  # type: ignore[arg-type]


def test_nothing_drawn() -> None:
    assert read_sheets([], "foam") == ((), ())
    assert read_sheets([drawn(line((0, 0), (10, 0)))], "foam") == ((), ())


def test_every_outline_is_a_sheet() -> None:
    sheets, findings = read_sheets(
        [drawn(rectangle(0, 0, 10, 10), "a"), drawn(circle(40, 40, 5), "b")], "foam"
    )
    assert [(s.object, s.role) for s in sheets] == [("a", "foam"), ("b", "foam")]
    assert sheets[0].geometry.equals(shapely.box(0, 0, 10, 10))
    assert findings == ()


@pytest.mark.parametrize("turn", [False, True])
def test_inner_outline_is_a_hole_whatever_its_direction(turn: bool) -> None:
    hole = circle(50, 50, 10)
    ring = [rectangle(0, 0, 100, 100), backwards(hole) if turn else hole]
    (together,), _ = read_sheets([drawn(ring, rule="nonzero")], "cover")
    (apart,), _ = read_sheets([drawn(ring[1], "hole"), drawn(ring[0], "outer")], "cover")
    assert together.geometry.area == pytest.approx(10000 - 100 * pi, abs=0.5)
    assert apart.geometry.area == pytest.approx(together.geometry.area)
    assert apart.object == "outer"


def test_sheet_in_a_hole_is_a_sheet_again() -> None:
    shapes = [
        drawn([circle(50, 50, 40), circle(50, 50, 30)], "ring"),
        drawn(circle(50, 50, 9), "dot"),
    ]
    sheets, _ = read_sheets(shapes, "foam")
    assert [s.object for s in sheets] == ["ring", "dot"]
    assert [s.geometry.area for s in sheets] == pytest.approx([700 * pi, 81 * pi], rel=0.002)


def test_hole_that_shares_the_edge_is_cut_out() -> None:
    (sheet,), _ = read_sheets(
        [drawn([rectangle(0, 0, 100, 100), rectangle(0, 40, 30, 20)])], "base"
    )
    assert sheet.geometry.area == pytest.approx(10000 - 600)


def test_overlapping_sheets_stand_for_themselves() -> None:
    sheets, findings = read_sheets(
        [drawn(rectangle(0, 0, 10, 10), "a"), drawn(rectangle(5, 5, 10, 10), "b")], "foam"
    )
    assert [s.geometry.area for s in sheets] == [100, 100]
    assert findings == ()


def test_outline_drawn_twice_is_no_hole() -> None:
    copies = [drawn(rectangle(0, 0, 50, 50), "a"), drawn(rectangle(0, 0, 50, 50), "b")]
    (sheet,), findings = read_sheets(copies, "base")
    assert (sheet.object, sheet.geometry.area) == ("a", 2500)
    assert [f.rule for f in findings] == ["outline-doubled"]


def test_stroke_to_path_base_is_one_sheet() -> None:
    pair = [rectangle(0, 0, 50, 50), rectangle(0.3, 0.3, 49.4, 49.4)]
    (sheet,), _ = read_sheets([drawn(pair)], "base")
    assert sheet.geometry.area == 2500


def test_crossing_outline_stops() -> None:
    curl = contour([(0, 0), (10, 0), (10, 8), (3, 8), (3, 4), (6, 4), (6, 10), (0, 10)])
    (sheet,), (finding,) = read_sheets([drawn(curl, "base")], "base")
    assert (finding.rule, finding.severity) == ("outline-crosses-itself", "stop")
    assert finding.at == pytest.approx((6, 8))
    assert finding.objects == ("base",)
    assert sheet.geometry.is_valid


def test_clip_cuts_a_sheet() -> None:
    (sheet,), _ = read_sheets(
        [drawn(rectangle(0, 0, 10, 10), clip=shapely.box(0, 0, 4, 99))], "foam"
    )
    assert sheet.geometry.area == pytest.approx(40)


# --- folds -------------------------------------------------------------------------------


def fold(contours: Contour | list[Contour], **more: str) -> Shape:
    return shape("folds", contours, "fold", stroke=0.3, filled=False, **more)


def test_fold_with_its_attributes() -> None:
    folds, findings = fold_lines(
        [
            fold(line((10, 0), (10, 90))),
            fold(line((0, 5), (9, 5)), moves="once"),
            fold(line((0, 8), (9, 8)), folds="battery"),
            fold(line((0, 9), (9, 9)), moves="seldom"),
        ]
    )
    assert [(f.moves, f.cell) for f in folds] == [
        ("often", None),
        ("once", None),
        ("often", "battery"),
        ("often", None),
    ]
    assert folds[0].line.length == pytest.approx(90)
    assert findings == ()


@pytest.mark.parametrize(("off", "straight"), [(0.1, True), (0.2, True), (0.25, False)])
def test_fold_may_leave_the_straight_by_a_fifth(off: float, straight: bool) -> None:
    folds, findings = fold_lines([fold(line((0, 0), (50, off), (100, 0)))])
    assert len(folds) == straight
    assert [(f.rule, f.severity, f.objects) for f in findings] == (
        [] if straight else [("object-skipped", "caution", ("fold",))]
    )
    if straight:
        assert folds[0].line.length == pytest.approx(100)


def test_closed_and_bent_lines_are_no_folds() -> None:
    shapes = [fold(rectangle(0, 0, 50, 50)), fold(line((0, 0), (50, 0), (50, 50)))]
    folds, findings = fold_lines(shapes)
    assert folds == ()
    assert [f.rule for f in findings] == ["object-skipped"] * 2


def test_several_lines_of_one_object() -> None:
    folds, _ = fold_lines([fold([line((0, 0), (50, 0)), line((0, 9), (50, 9)), line((3, 3))])])
    assert [f.object for f in folds] == ["fold", "fold"]
