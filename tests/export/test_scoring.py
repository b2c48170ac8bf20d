"""Folds and open lines are scored: on the sheets that they cross, on a layer of their own."""

from __future__ import annotations

import io

import ezdxf
import numpy as np
import pytest
from lxml import etree

from underlit.workflows.export import Choices

from .exported import export_text, told
from .test_reread import dxf_rings, svg_rings, svg_scores

CARD = """<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="100mm" viewBox="0 0 120 100"
 xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" xmlns:underlit="urn:underlit:card:1"
 underlit:side="{side}">
<g inkscape:groupmode="layer" inkscape:label="Die cut">
<path d="M 20,20 H 100 V 80 H 20 Z M 50,40 V 60 H 70 V 40 Z" fill="none" stroke="#000"/>{cut}</g>
<g inkscape:groupmode="layer" inkscape:label="Base">{base}</g>
<g inkscape:groupmode="layer" inkscape:label="Folds">{folds}</g>
<g inkscape:groupmode="layer" inkscape:label="Tape">
<path d="M 30,25 H 60" fill="none" stroke="#000" stroke-width="5"/></g></svg>"""
BASE = '<rect x="10" y="10" width="100" height="80"/>'
FORMATS = ("svg", "dxf", "dxf-r12")


def scored(cut: str = "", folds: str = "", base: str = BASE, side: str = "front"):
    """Sheet -> its scores as the SVG holds them, in page mm, and the whole export."""
    text = CARD.format(cut=cut, folds=folds, base=base, side=side)
    done = export_text(text, Choices(formats=FORMATS, anyway=True, offer=False))
    left, top = told(done)["origin"]
    found = {}
    for sheet in told(done)["sheets"]:
        name = sheet["name"]
        lines = svg_scores(done.files[f"card-{name}.svg"])
        assert len(lines) == sheet["scores"]
        for end, version in ((".dxf", "AC1015"), ("-r12.dxf", "AC1009")):
            read = dxf_rings(
                done.files[f"card-{name}{end}"], sheet["size"][1], version, scores=True
            )
            for line, other in zip(lines, read, strict=True):
                assert line == pytest.approx(other, abs=0.001)
        if sheet["mirrored"]:
            lines = [line * (-1, 1) + (sheet["size"][0], 0) for line in lines]
        if lines:
            found[name] = sorted((line + np.array([left, top])).round(3).tolist() for line in lines)
    return found, done


def test_a_fold_is_scored_where_there_is_paper() -> None:
    found, done = scored(folds='<path d="M 60,0 V 100"/>')
    assert found == {
        "base": [[[60, 10], [60, 90]]],
        "panel": [[[60, 20], [60, 40]], [[60, 60], [60, 80]]],
    }
    assert "Score the red lines" in done.message
    assert "base and panel" in done.message


def test_no_cut_follows_a_score() -> None:
    plain = scored()[1]
    done = scored(folds='<path d="M 60,0 V 100"/>', cut='<path d="M 25,30 L 45,70"/>')[1]
    for name in ("base", "panel", "tape"):
        one, other = (svg_rings(d.files[f"card-{name}.svg"]) for d in (plain, done))
        assert [[r.tolist() for r in rings] for rings in one] == [
            [r.tolist() for r in rings] for rings in other
        ]
        assert told(plain)["sheets"][0]["cut_length"] == told(done)["sheets"][0]["cut_length"]


def test_a_flap_is_a_fold_of_the_base_alone() -> None:
    cell = '<path d="M 60,15 V 85" underlit:folds="cell"/>'
    assert set(scored(folds=cell)[0]) == {"base"}
    assert set(scored(folds=cell, base="")[0]) == {"base", "panel"}


def test_open_lines_of_die_cut_are_scored_on_the_panel() -> None:
    found, done = scored(cut='<path d="M 25,30 L 35,50 L 45,70"/><path d="M 0,5 H 15"/>')
    assert found == {"panel": [[[25, 30], [35, 50], [45, 70]]]}
    assert any(f["rule"] == "outline-open" for f in done.report["findings"])


def test_a_line_along_an_edge_or_drawn_twice_counts_once() -> None:
    folds = '<path d="M 60,20 V 40"/><path d="M 20,20 V 80"/><path d="M 60.02,39 V 20"/>'
    found, _ = scored(folds=folds, cut='<path d="M 60,20 V 40"/>')
    assert found["panel"] == [[[60, 20], [60, 40]]]
    assert len(found["base"]) == 2


def test_a_back_side_mirrors_its_scores() -> None:
    found, done = scored(folds='<path d="M 40,0 V 100"/>', side="back")
    assert found["base"] == [[[40, 10], [40, 90]]]
    (line,) = svg_scores(done.files["card-base.svg"])
    (front,) = svg_scores(scored(folds='<path d="M 40,0 V 100"/>')[1].files["card-base.svg"])
    width = told(done)["sheets"][0]["size"][0]
    assert line[0, 0] == pytest.approx(width - front[0, 0], abs=0.001)


def test_scores_come_first_in_a_group_of_their_own_with_a_plain_name() -> None:
    done = scored(folds='<path d="M 60,0 V 100"/>')[1]
    root = etree.fromstring(done.files["card-panel.svg"])
    tags = [etree.QName(child).localname for child in root if isinstance(child.tag, str)]
    assert tags == ["title", "g", "path"]
    assert root[2].get("id") == "score"
    assert root[2][0].text == "Score, do not cut"
    document = ezdxf.read(io.StringIO(done.files["card-panel.dxf"].decode()))
    assert document.layers.get("SCORE").dxf.color == 1
    layers = [entity.dxf.layer for entity in document.modelspace()]
    assert layers == ["SCORE", "SCORE", "PANEL", "PANEL"]


def test_guides_draw_a_fold_no_farther_than_the_base() -> None:
    done = scored(folds='<path d="M 60,-40 V 140"/>')[1]
    left, top = told(done)["origin"]
    rings = [ring for rings in svg_rings(done.files["card-guides.svg"]) for ring in rings]
    (fold,) = [ring + np.array([left, top]) for ring in rings if len(ring) == 2]
    assert np.sort(fold[:, 1]) == pytest.approx([10, 90], abs=0.001)
    assert told(done)["sheets"][0]["size"][1] < 130
