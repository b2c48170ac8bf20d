"""In place: corner marks, separate sheets, a back side; and what the other files hold."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import shapely
from shapely.geometry import Point, Polygon, box

from underlit.export.arranging import MARK_CLEAR, corner_marks, tape_sheets
from underlit.export.cut import Piece
from underlit.export.pieces import levels, overlapping, spread
from underlit.workflows.export import Choices

from .exported import SAMPLES, export_text, sample_case, sample_made, sample_text, told

L_BASE = Polygon([(0, 0), (100, 0), (100, 40), (50, 40), (50, 90), (0, 90)])


@pytest.mark.parametrize(
    "base", [box(0, 0, 100, 60), box(0, 0, 100, 60).buffer(5), Point(50, 50).buffer(50), L_BASE]
)
def test_three_marks_fit_the_edge_of_the_base(base: Polygon) -> None:
    marks = [mark.area for mark in corner_marks(base, [])]
    assert len(marks) == 3
    for mark in marks:
        assert shapely.area(mark.intersection(base)) < 1e-6
        along = mark.exterior.intersection(base.exterior.buffer(1e-6))
        assert along.length > 10.0
    assert shapely.area(shapely.union_all(marks)) == pytest.approx(sum(m.area for m in marks))
    turned = [shapely.transform(m, lambda p, b=base.bounds: (b[0] + b[2], b[1] + b[3]) - p)
              for m in marks]  # fmt: skip
    assert any(min(t.hausdorff_distance(m) for m in marks) > 1.0 for t in turned)  # one way only


def test_marks_keep_off_tape_over_the_edge() -> None:
    tape = box(-6, 5, 20, 10)
    for mark in corner_marks(box(0, 0, 100, 60), [tape]):
        assert mark.area.distance(tape) >= MARK_CLEAR - 1e-6


def test_no_base_no_marks() -> None:
    assert corner_marks(Polygon(), []) == []


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("way", ["in-place", "whole"])
def test_no_two_outlines_of_a_sheet_meet(name: str, way: str) -> None:
    for cut in sample_made(name, way).tape:
        assert len(overlapping(cut.pieces)) == 0
        assert sum(piece.label.startswith("mark-") for piece in cut.pieces) == 3


@pytest.mark.parametrize("name", SAMPLES)
def test_tape_lies_where_it_is_drawn(name: str) -> None:
    """Sheet mm plus the origin are page mm; rounding takes no more than corners."""
    made, case = sample_made(name, "in-place"), sample_case(name)
    origin = np.array([made.frame.left, made.frame.top])
    strips = {strip.name: strip.geometry for strip in case.card.strips}
    cut = [p for c in made.tape for p in c.pieces if p.strips]
    assert sorted(s for p in cut for s in p.strips) == sorted(strips)
    for piece in cut:
        back = shapely.transform(piece.area, lambda p: p + origin)
        drawn = strips[piece.strips[0]]
        assert back.symmetric_difference(drawn).area < 0.07 * len(drawn.exterior.coords)
        assert back.hausdorff_distance(drawn) < 0.5


def pieces(*strips: tuple[str, str | None, Polygon]) -> list[Piece]:
    return [Piece(l, a, (l,), sign, n) for n, (l, sign, a) in enumerate(strips)]


def names(sheets: list[tuple[str, list[Piece]]]) -> list[tuple[str, list[str]]]:
    return [(material, [p.label for p in members]) for material, members in sheets]


def test_crossing_sides_go_on_sheets_of_their_own_in_laying_order() -> None:
    over = pieces(
        ("M1", "negative", box(0, 20, 60, 25)),
        ("P1", "positive", box(30, 0, 35, 60)),
        ("P2", "positive", box(30, 55, 90, 60)),
    )
    assert names(tape_sheets(over)) == [
        ("tape-negative", ["M1"]),
        ("tape-positive", ["P1"]),
        ("tape-positive", ["P2"]),
    ]


def test_overlaps_of_one_side_need_two_sheets_not_one_for_each() -> None:
    rail = [(f"P{n}", "positive", box(n * 30, 0, n * 30 + 34, 5)) for n in range(30)]
    assert [len(members) for _, members in tape_sheets(pieces(*rail))] == [15, 15]


def test_over_and_under_each_other_goes_by_levels() -> None:
    woven = pieces(
        ("P1", "positive", box(0, 0, 60, 5)),
        ("M1", "negative", box(10, -9, 15, 60)),
        ("P2", "positive", box(0, 40, 60, 45)),
        ("M2", "negative", box(30, -9, 35, 39)),
        ("P3", "positive", box(30, 36, 35, 60)),
    )
    sheets = tape_sheets(woven)
    rank = {p.label: n for n, (_, members) in enumerate(sheets) for p in members}
    for low, high in (("P1", "M1"), ("M1", "P2"), ("M2", "P3")):
        assert rank[low] < rank[high]


def test_spread_takes_two_sheets_for_every_tree() -> None:
    rng = np.random.default_rng(3)
    for _ in range(20):
        parents = [int(rng.integers(0, n)) for n in range(1, 40)]
        order = rng.permutation(40)
        pairs = np.array([sorted((order[n], order[p])) for n, p in enumerate(parents, 1)])
        sheet = spread(40, pairs)
        assert max(sheet) == 1
        assert all(sheet[i] != sheet[j] for i, j in pairs)
    assert levels(3, np.array([[0, 1], [1, 2]])) == [0, 1, 2]


@pytest.mark.parametrize("arrange", ["in-place", "packed"])
def test_a_back_side_is_mirrored_and_says_so(arrange: str) -> None:
    text = sample_text("lantern")
    back = text.replace("<svg", '<svg underlit:side="back"', 1)
    assert back != text
    front, behind = (export_text(t, Choices(("svg", "dxf"), arrange)) for t in (text, back))
    assert told(behind)["mirrored"]
    assert not told(front)["mirrored"]
    assert "mirrored" in behind.message
    assert b"mirrored" in behind.files["card-tape.svg"]
    assert b"TAPE-MIRRORED" in behind.files["card-tape.dxf"]
    for name in ("tape", "base", "guides", "patches"):
        one, other = (outline_set(d.files[f"card-{name}.svg"]) for d in (front, behind))
        if arrange == "in-place":
            width = told(front)["sheets"][0]["size"][0]
            flipped = shapely.transform(one, lambda p, w=width: p * (-1, 1) + (w, 0))
            assert flipped.hausdorff_distance(other) < 0.01
    for name in ("panel", "diffuser"):
        assert front.files[f"card-{name}.svg"] == behind.files[f"card-{name}.svg"]
    if arrange == "packed":
        areas = {d: {p["label"]: p["area"] for p in told(d)["pieces"]} for d in (front, behind)}
        assert areas[front] == areas[behind]
        assert front.files["card-tape.svg"] != behind.files["card-tape.svg"]


def outline_set(data: bytes) -> shapely.MultiLineString:
    from .test_reread import svg_rings

    rings = [ring for rings in svg_rings(data) for ring in rings]
    return shapely.multilinestrings(
        [shapely.linestrings(np.concatenate([r, r[:1]])) for r in rings]
    )


@pytest.mark.parametrize("name", SAMPLES)
def test_every_material_has_its_file(name: str) -> None:
    made, card = sample_made(name, "in-place"), sample_case(name).card
    cuts = {cut.name: cut for cut in made.others}
    wanted = {"base", "foam", "cover", "diffuser", "panel", "guides", "test-cut"}
    assert set(cuts) == wanted | ({"patches"} if card.patches else set())
    assert cuts["base"].area == pytest.approx(card.base.area, rel=1e-3)
    foam = shapely.union_all([sheet.geometry for sheet in card.foam])
    assert cuts["foam"].area == pytest.approx(foam.area, rel=1e-3)
    holes = shapely.union_all([o.outline for o in card.openings])
    solid = shapely.union_all([p.outline for p in card.panels]).difference(holes)
    panel = [p.area.area for p in cuts["panel"].pieces if p.label.startswith("panel")]
    assert sum(panel) == pytest.approx(solid.area, rel=1e-3)
    assert cuts["cover"].offered is not bool(card.covers)
    assert cuts["diffuser"].offered is not bool(card.diffusers)


@pytest.mark.parametrize("name", ["lantern", "lighthouse"])
def test_offered_sheets_reach_beyond_windows_and_leave_lenses_free(name: str) -> None:
    made, card = sample_made(name, "in-place"), sample_case(name).card
    cuts = {cut.name: cut for cut in made.others}
    origin = np.array([made.frame.left, made.frame.top])
    cover, vellum = (
        shapely.transform(shapely.union_all([p.area for p in cuts[n].pieces]), lambda p: p + origin)
        for n in ("cover", "diffuser")
    )
    panels = shapely.union_all([p.outline for p in card.panels])
    for opening in card.openings:
        glued = opening.outline.buffer(3.5).intersection(panels.buffer(-2.0))
        assert glued.difference(vellum).area < 0.01 * glued.area
    for light in card.lights:
        assert not cover.intersects(light.features["lens"].buffer(0.8))
    assert panels.buffer(0.1).covers(vellum)


def test_nothing_is_offered_where_nobody_wants_it() -> None:
    done = export_text(sample_text("lantern"), Choices(("svg",), offer=False))
    assert not {"card-cover.svg", "card-diffuser.svg"} & set(done.files)


def test_test_cut_is_a_square_with_strip_ladder_and_light() -> None:
    cut = next(c for c in sample_made("lantern", "in-place").others if c.name == "test-cut")
    areas = {piece.label: piece.area for piece in cut.pieces}
    assert areas["square"].bounds[2] - areas["square"].bounds[0] == pytest.approx(50.0)
    assert areas["square"].area == pytest.approx(2500.0)
    bars = [areas[f"bar-{n}"] for n in range(1, 5)]
    gaps = [a.distance(b) for a, b in pairwise(bars)]
    assert gaps == pytest.approx([1.0, 2.0, 3.0])
    low, high = sorted(np.subtract(areas["light"].bounds[2:], areas["light"].bounds[:2]))
    assert (low, high) == pytest.approx((5.0, 12.0))
    assert "strip" in areas
    assert cut.outlines[-1].label == "square"  # the outermost is cut last


def test_guides_show_lights_with_their_signs_battery_fold_and_tape() -> None:
    case, made = sample_case("lantern"), sample_made("lantern", "in-place")
    cut = next(c for c in made.others if c.name == "guides")
    assert cut.pen
    origin = np.array([made.frame.left, made.frame.top])
    rings = {}
    for outline in cut.outlines:
        rings.setdefault(outline.label, []).append(outline.rings[-1] + origin)
    (light,) = case.card.lights
    assert {light.id, "plus", "minus", "tape-plus", "tape-minus", "fold"} <= set(rings)
    body = Polygon(rings[light.id][0])
    assert body.symmetric_difference(light.body).area < 0.01
    near = [Polygon(r).centroid for r in rings["plus"]]
    pad = light.features["positive-pad"].centroid
    beside = min(near, key=pad.distance)
    assert not body.contains(beside)
    assert pad.distance(beside) < light.features["negative-pad"].centroid.distance(beside)


@pytest.mark.parametrize("name", SAMPLES)
def test_inner_outlines_come_first_and_ways_are_short(name: str) -> None:
    for cut in sample_made(name, "in-place").cuts:
        done: list[Polygon] = []
        for outline in cut.outlines if not cut.pen else ():
            for ring in outline.rings:
                area = Polygon(ring)
                assert not any(before.contains(area) for before in done)
                done.append(area)
        if len(cut.pieces) > 3:
            assert cut.travel <= drawn_travel(cut) + 1e-6


def drawn_travel(cut) -> float:
    """The way if pieces were cut by their names."""
    at, way = np.zeros(2), 0.0
    for outline in sorted(cut.outlines, key=lambda o: o.label):
        for ring in outline.rings:
            way += float(np.hypot(*(ring[0] - at)))
            at = ring[0]
    return way


def test_overcut_runs_on_along_what_is_cut() -> None:
    plain = export_text(sample_text("lantern"))
    over = export_text(sample_text("lantern"), overcut=1.5)
    one, other = (told(d)["sheets"][0] for d in (plain, over))
    rings = one["outlines"]
    assert other["cut_length"] == pytest.approx(one["cut_length"] + 2 * 1.5 * rings, abs=0.01)
    lines = [outline_set(d.files["card-tape.svg"]) for d in (plain, over)]
    assert lines[0].hausdorff_distance(lines[1]) < 0.001
