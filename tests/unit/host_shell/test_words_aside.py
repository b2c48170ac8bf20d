"""Words beside the spot to press step aside where tape is laid under them."""

from __future__ import annotations

import copy
import subprocess
import sys
from pathlib import Path

import pytest
import shapely
from lxml import etree

from kit.run import ROOT
from underlit.markup.text import text_width
from underlit.profiles import load_profile
from underlit.workflows.laying import LaidStrip
from underlit.workflows.power_marks import TYPE
from underlit.workflows.validate import case_of
from underlit_host.laying import draw_strips
from underlit_host.placing_power import move_words
from underlit_host.read_drawing import read_drawing

SVG = "{http://www.w3.org/2000/svg}"
CARD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/'
    'inkscape" width="210mm" height="297mm" viewBox="0 0 {size}"><g inkscape:groupmode="layer" '
    'inkscape:label="Die cut" transform="scale({scale})"><path id="panel" d="M 0,0 H 108 V 140 H 0 '
    'Z"/><rect id="door" x="44" y="20" width="20" height="35"/></g></svg>'
)


@pytest.fixture(scope="module", params=[("210 297", "1"), ("793.701 1122.52", "3.7795275")])
def placed(request, tmp_path_factory) -> etree._Element:
    """A card in mm, and one in px, with a battery and its words."""
    folder: Path = tmp_path_factory.mktemp("card")
    card, out = folder / "card.svg", folder / "out.svg"
    card.write_text(CARD.format(size=request.param[0], scale=request.param[1]))
    script = ROOT / "extension" / "place_power.py"
    command = [sys.executable, str(script), str(card), "--at", "54,90", "--output", str(out)]
    subprocess.run(command, check=True, capture_output=True, timeout=60)
    return etree.parse(str(out)).getroot()


@pytest.fixture
def root(placed: etree._Element) -> etree._Element:
    return copy.deepcopy(placed)


def words_of(root: etree._Element) -> list[etree._Element]:
    found = [t for t in root.iter(SVG + "text") if t.text in ("press here", "plus side up")]
    assert len(found) == 2
    return found


def boxes(root: etree._Element) -> shapely.Geometry:
    """What the words cover, page mm."""
    return shapely.union_all(
        [
            shapely.box(
                x - text_width(t.text, TYPE) / 2, y - TYPE, x + text_width(t.text, TYPE) / 2, y
            )
            for t in words_of(root)
            for x, y in [(float(t.get("x")), float(t.get("y")))]
        ]
    )


def lay_over(root: etree._Element, *, beside: float = 0.0) -> None:
    """A strip across the words, or below them."""
    _, _, _, bottom = boxes(root).bounds
    level = bottom - 1.0 + beside
    draw_strips(
        root, [LaidStrip("P1", ((5.0, level), (90.0, level)), 5.0, "positive")], "route_tape"
    )


def step(root: etree._Element) -> shapely.Geometry:
    """Let the words step aside; the tape of the card."""
    drawing = read_drawing(root, "card.svg")
    card = case_of(drawing, load_profile(drawing.profile, drawing.settings, None)).card
    move_words(root, card)
    return shapely.union_all([strip.geometry for strip in card.strips])


def test_words_step_off_the_tape_and_keep_together(root: etree._Element) -> None:
    lay_over(root)
    before = boxes(root)
    tape = step(root)
    assert before.intersects(tape)
    assert boxes(root).distance(tape) > 0.5
    assert shapely.box(0, 0, 108, 140).covers(boxes(root))
    assert boxes(root).area == pytest.approx(before.area, abs=1e-3)
    assert boxes(root).centroid.distance(before.centroid) < 15.0
    once = etree.tostring(root)
    step(root)
    assert etree.tostring(root) == once


def test_words_with_no_tape_under_them_stay(root: etree._Element) -> None:
    lay_over(root, beside=3.6)
    before = etree.tostring(root)
    step(root)
    assert etree.tostring(root) == before


def spanned(line: etree._Element) -> None:
    etree.SubElement(line, SVG + "tspan").text, line.text = line.text, None


def unreadable(line: etree._Element) -> None:
    line.getparent().set("transform", "spin(1)")


def moved(line: etree._Element) -> None:
    line.getparent().set("transform", "translate(0,0.5)")


def turned(line: etree._Element) -> None:
    line.set("transform", "rotate(1)")


def endless(line: etree._Element) -> None:
    line.set("x", "inf")


def placeless(line: etree._Element) -> None:
    del line.attrib["y"]


@pytest.mark.parametrize("change", [spanned, unreadable, moved, turned, endless, placeless])
def test_words_that_the_maker_changed_stay(root: etree._Element, change) -> None:
    lay_over(root)
    change(words_of(root)[0])
    before = etree.tostring(root)
    step(root)
    assert etree.tostring(root) == before
