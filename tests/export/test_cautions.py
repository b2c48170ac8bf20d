"""What may go wrong at the cutter is named with figures, and divided strips then fit."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Polygon, box
from shapely.ops import substring

from rules import cards
from underlit.export.caution import Caution
from underlit.export.cautions import cutter_cautions
from underlit.export.packing import fits_on, upright_area
from underlit.export.splitting import split_places
from underlit.workflows.export import Choices, make_cuts, stock_of

from .exported import export_text, sample_text, told


def cautions(text: str, arrange: str = "in-place", pieces: str = "strips", **cutter) -> dict:
    done = export_text(text, Choices(("svg",), arrange, pieces), **cutter)
    found: dict[str, list[dict]] = {}
    for one in told(done)["warnings"]:
        found.setdefault(one["about"], []).append(one)
        assert one["message"] in done.message
        assert one["remedy"] in done.message
        for text_ in (one["message"], one["remedy"]):
            assert text_.endswith(".")
            assert "None" not in text_
    return found


def test_a_plain_card_has_none() -> None:
    assert cautions(sample_text("firefly-jar")) == {}


def test_a_sheet_too_small_for_the_layout() -> None:
    (one,) = cautions(sample_text("street"), sheet=[150.0, 100.0])["sheet"]
    assert "138 x 88 mm" in one["message"]  # 150 x 100 less 6 mm all round
    layout = [s for s in told(export_text(sample_text("street")))["sheets"] if s["name"] == "tape"]
    assert layout[0]["size"][0] > 150
    assert "sheet" not in cautions(sample_text("street"), "packed", sheet=[150.0, 100.0])


def test_a_mat_too_small_names_every_sheet_that_goes_over() -> None:
    (found,) = cautions(sample_text("lantern"), mat=[100.0, 130.0])["mat"]
    sizes = {s["name"]: s for s in told(export_text(sample_text("lantern")))["sheets"]}
    assert "mat of 100 x 130 mm: " in found["message"]
    assert "the back sheet (103 x 146 mm)" in found["message"]
    assert set(found["pieces"]) >= {"base", "panel"}
    assert set(found["pieces"]) <= set(sizes)


def test_whole_shapes_over_150_mm_are_told() -> None:
    found = cautions(sample_text("street"), pieces="whole")
    lengths = [one["message"] for one in found["long-shape"]]
    assert len(lengths) == 2
    assert "181.5 mm" in lengths[0]
    assert "long-shape" not in cautions(sample_text("street"))
    assert "long-shape" not in cautions(sample_text("lantern"), pieces="whole")


def test_narrow_tape_and_small_holes_are_told_with_figures() -> None:
    thin = sample_text("lantern").replace("stroke-width:5", "stroke-width:2.4")
    assert thin != sample_text("lantern")
    done = export_text(thin, Choices(("svg",), anyway=True))
    found = [w for w in told(done)["warnings"] if w["about"] == "feature"]
    assert found
    assert all("2.4 mm" in w["message"] and "tape wants 3" in w["message"] for w in found)
    assert told(done)["smallest_feature"] == pytest.approx(2.4, abs=0.02)
    (holes,) = cautions(sample_text("night-garden"))["hole"]
    assert "4 holes in the panel are only 1.44 to 1.87 mm wide" in holes["message"]


def taped(*lines: str) -> str:
    """A base with strips of 5 mm along these lines."""
    layer = 'inkscape:groupmode="layer" inkscape:label'
    strips = "".join(
        f'<path id="s{n}" d="{line}" style="fill:none;stroke:#000;stroke-width:5"/>'
        for n, line in enumerate(lines)
    )
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" '
        'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
        'width="200mm" height="150mm" viewBox="0 0 200 150">'
        f'<g {layer}="Base"><rect id="b" x="5" y="5" width="190" height="140"/></g>'
        f'<g {layer}="Tape">{strips}</g></svg>'
    )


def about_whole(*lines: str) -> dict[str, list[dict]]:
    done = export_text(taped(*lines), Choices(("svg",), pieces="whole", anyway=True))
    return {w["about"]: w for w in told(done)["warnings"]}


def test_a_narrow_slot_in_a_whole_shape_is_told() -> None:
    rails = ["M 20,20 H 100", "M 30,15 V 40", "M 90,15 V 40", "M 60,20 V 40"]
    found = about_whole(*rails, "M 40,26 H 80")  # 1 mm under the rail, joined by the middle one
    assert found["slot"]["message"].startswith("Shape T1 leaves a slot of less than 1.5 mm")
    x, y = found["slot"]["at"]
    assert 40 <= x <= 80
    assert 22.5 <= y <= 23.5
    assert about_whole(*rails, "M 40,27.5 H 80") == {}


def test_a_small_hole_in_a_whole_shape_is_told_and_is_no_slot() -> None:
    around = ["M 20,20 H 100", "M 97.5,17.5 V 40", "M 22.5,17.5 V 40"]
    found = about_whole(*around, "M 20,26.2 H 100")
    assert set(found) == {"hole"}
    assert found["hole"]["message"] == "A hole in the tape is only 1.2 mm wide; the knife wants 2."
    assert about_whole(*around, "M 20,40 H 100") == {}


def test_of_many_alike_a_few_are_said_and_all_are_reported() -> None:
    thin = taped(*(f"M 20,{10 + 10 * n} H 100" for n in range(12)))
    done = export_text(thin.replace("width:5", "width:2"), Choices(("svg",), anyway=True))
    assert [w["about"] for w in told(done)["warnings"]] == ["feature"] * 12
    assert done.message.count("is only 2 mm wide at one place") == 4
    assert "The same holds for 8 more." in done.message


LONG = cards.strip("long", [(10, 20), (410, 20), (410, 60), (330, 60)], polarity="positive")


def long_card():
    """One strip of 400 mm and more, a foot in its middle."""
    foot = cards.light("light-1", (208.0, 24.0), angle=-90.0)
    return cards.card(
        base=box(0, 0, 420, 80), base_drawn=True, lights=(foot,), **cards.tape([LONG])
    )


def test_a_strip_too_long_is_told_where_to_divide_it_and_the_parts_fit() -> None:
    case = cards.case(long_card())
    made = make_cuts(case, Choices(("svg",), "packed"))
    stock = stock_of(case.profile.cutter)
    found = cutter_cautions(case, made.cuts, made.pieces, made.sheets, stock, False, False)
    (one,) = [c for c in found if c.about == "piece-too-long"]
    assert "Strip P1 takes" in one.message or "Strip T1 takes" in one.message
    assert "188 x 288 mm" in one.message
    assert "overlap of 5 mm" in one.remedy
    divided_parts_fit(one, case)


def divided_parts_fit(one: Caution, case) -> None:
    (strip,) = case.card.strips
    stock = stock_of(case.profile.cutter)
    x, y = one.at
    at = strip.line.project(shapely.Point(x, y))
    assert shapely.Point(x, y).distance(strip.line) < 1e-6
    corners = [strip.line.project(shapely.Point(c)) for c in strip.line.coords]
    assert min(abs(at - c) for c in corners) >= 5.0  # a straight place
    pad = case.card.lights[0].features["positive-pad"]
    assert pad.distance(shapely.Point(x, y)) > 5.0  # away from the foot
    for low, high in ((0.0, at + 2.5), (at - 2.5, strip.line.length)):
        part = substring(strip.line, low, high).buffer(2.5, cap_style="flat", join_style="mitre")
        assert fits_on(tuple(upright_area(part).bounds[2:]), stock)


def test_very_long_strips_are_divided_more_than_once() -> None:
    strip = cards.strip("long", [(0, 0), (1000, 0)])
    places = split_places(strip, Polygon(), 5.0, lambda size: max(size) <= 288.0)
    cuts = [0.0, *(x for x, _ in places), 1000.0]
    assert len(places) == 3
    for a, b in pairwise(cuts):
        assert min(b + 2.5, 1000.0) - max(a - 2.5, 0.0) <= 288.0 + 1e-6


def test_a_filled_strip_is_divided_where_it_is_even() -> None:
    blob = box(0, 0, 400, 5).union(box(190, -3, 210, 8))
    turned = shapely.affinity.rotate(blob, 30, origin=(0, 0))
    (place,) = split_places(
        cards.cut("long", turned), Polygon(), 5.0, lambda size: max(size) <= 288.0
    )
    x, y = np.array(shapely.affinity.rotate(shapely.Point(place), -30, origin=(0, 0)).coords[0])
    assert y == pytest.approx(2.5, abs=0.1)
    assert abs(x - 200) > 10 + 5  # not in the blob
    assert 112.0 <= x <= 288.0


def test_nowhere_to_divide_is_said() -> None:
    curve = LineString([(60 * np.cos(t), 60 * np.sin(t)) for t in np.linspace(0, 4, 200)])
    strip = cards.strip("curved", curve.coords)
    assert split_places(strip, Polygon(), 5.0, lambda size: max(size) <= 80.0) == []


def test_curved_tape_from_a_roll() -> None:
    found = cautions(sample_text("firefly-jar"), "packed", roll_width=32.0)["curved"]
    assert "bends and needs" in found[0]["message"]
    assert "20 mm inside its margin" in found[0]["message"]
    assert found[0]["remedy"] == "Cut it from sheet, or straighten it."
