"""Narrow places: a line from end to end, its figures beside it, a ring round every foot."""

from __future__ import annotations

from math import cos, dist, sin

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from kit.legends import box_of, check_nothing_covers, words
from underlit.markup.findings import Sheet, findings_sheet
from underlit.markup.narrow import Foot, Narrow
from underlit.markup.primitives import Circle, Group, Path, Region
from underlit.model.drawing import Page
from underlit.model.finding import Finding

PAGE = Page(125.0, 168.0, 1.0)
WORDS = ("needs 14.6 mm", "has 11 mm")
WIDE = ((60.0, 74.5), (60.0, 85.5))


def sheet_of(places: list[Narrow], count: int = 1) -> Sheet:
    """A sheet with `count` findings at the middle of each place."""
    findings = []
    for place in places:
        (ax, ay), (bx, by) = place.ends or (place.feet[0].light,) * 2
        at = ((ax + bx) / 2.0, (ay + by) / 2.0)
        findings += [Finding("no-room", "stop", at, ("L1",), "No way.", "Make room.")] * count
    box = (0.0, 0.0, PAGE.width, PAGE.height)
    return findings_sheet(PAGE, box, findings, (), "", "not-ready", "No room", places)


def group(sheet: Sheet, name: str) -> Group:
    (found,) = (g for g in sheet.groups if g.name == name)
    return found


def plate(sheet: Sheet, name: str) -> shapely.Polygon:
    (found,) = (box_of(i) for i in group(sheet, name).items if isinstance(i, Region))
    return found


def two_feet() -> Narrow:
    feet = (Foot((100.0, 80.0), (96.0, 80.0), 1), Foot((110.0, 100.0), (110.0, 96.0), 2))
    return Narrow(WIDE, WORDS, feet)


def test_the_line_runs_from_end_to_end() -> None:
    sheet = sheet_of([two_feet()], 2)
    lines = [i.points for i in group(sheet, "narrow-1").items if isinstance(i, Path)]
    assert WIDE in lines
    bars = [line for line in lines if line != WIDE]
    for end in WIDE:
        assert any(dist(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), end) < 1e-9 for a, b in bars)


def test_the_figures_stand_beside_it_and_hide_nothing() -> None:
    sheet = sheet_of([two_feet()], 2)
    assert words(group(sheet, "narrow-1")) == list(WORDS)
    figures = plate(sheet, "narrow-1")
    assert figures.distance(shapely.LineString(WIDE)) < 8.0
    others = [g for g in sheet.groups if g.name.startswith(("mark", "place", "foot"))]
    assert not any(figures.intersects(box_of(i)) for g in others for i in g.items)
    assert not any(figures.intersects(box_of(i)) for i in lines_of(sheet))
    check_nothing_covers(sheet)


def lines_of(sheet: Sheet) -> list[Path]:
    return [i for i in group(sheet, "narrow-1").items if isinstance(i, Path)]


def test_no_mark_hides_the_line() -> None:
    line = shapely.LineString(WIDE)
    for mark in sheet_of([two_feet()], 2).marks:
        assert shapely.Point(mark.centre).buffer(mark.reach).distance(line) > 0.0


def test_every_foot_has_a_ring_with_the_number_of_its_finding() -> None:
    sheet = sheet_of([two_feet()], 2)
    for number, at in ((1, (100.0, 80.0)), (2, (110.0, 100.0))):
        foot = group(sheet, f"foot-{number}")
        assert words(foot) == [str(number)]
        assert any(isinstance(i, Circle) and i.at == at for i in foot.items)


def test_a_place_without_a_line_gets_its_ring_alone() -> None:
    place = Narrow(None, WORDS, (Foot((60.0, 80.0), (56.0, 80.0), 1),))
    sheet = sheet_of([place])
    assert not any(g.name.startswith("narrow") for g in sheet.groups)
    assert words(group(sheet, "foot-1")) == [], "its mark stands at the light itself"


@settings(max_examples=30, deadline=None)
@given(st.floats(0.0, 125.0), st.floats(0.0, 168.0), st.floats(0.0, 6.28), st.floats(0.3, 25.0))
def test_figures_stay_on_the_page_wherever_the_place_is(
    x: float, y: float, angle: float, size: float
) -> None:
    dx, dy = size / 2 * cos(angle), size / 2 * sin(angle)
    place = Narrow(((x - dx, y - dy), (x + dx, y + dy)), WORDS, (Foot((x, y), (x + 4, y), 1),))
    sheet = sheet_of([place])
    assert shapely.box(0, 0, PAGE.width, PAGE.height).contains(plate(sheet, "narrow-1"))
    check_nothing_covers(sheet)


def test_two_places_keep_their_figures_apart() -> None:
    near = ((64.0, 74.5), (64.0, 85.5))
    feet = two_feet().feet
    sheet = sheet_of([Narrow(WIDE, WORDS, feet[:1]), Narrow(near, WORDS, feet[1:])])
    assert not plate(sheet, "narrow-1").intersects(plate(sheet, "narrow-2"))
    assert plate(sheet, "narrow-1").area == pytest.approx(plate(sheet, "narrow-2").area)
