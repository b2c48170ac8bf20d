"""Marks, legend, titles and parts in German: at the same places, and no English left."""

from __future__ import annotations

from pathlib import Path

import pytest
import shapely
from lxml import etree

from kit.german import english_in, in_german
from kit.legends import check_nothing_covers, everything
from kit.run import ROOT
from underlit.markup import part_shapes
from underlit.markup.findings import Sheet
from underlit.markup.openings import opening_groups, piece_groups
from underlit.markup.signs import Signed, sign_groups
from underlit.profiles import load_profile
from underlit.workflows.validate import case_of, validate
from underlit_host.read_drawing import read_drawing

FAULTY = sorted((ROOT / "sample_svgs" / "faulty").glob("*.svg"))
PROFILE = load_profile("hand-laid")


def validated(path: Path) -> Sheet:
    root = etree.fromstring(path.read_bytes())
    return validate(read_drawing(root, path.name), PROFILE).sheet


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.stem)
def test_findings_in_german(path: Path, catalogs: Path) -> None:
    english = validated(path)
    with in_german(catalogs):
        german = validated(path)
    check_nothing_covers(german)
    assert [repr(mark) for mark in german.marks] == [repr(mark) for mark in english.marks]
    assert {g.name for g in german.groups} == {g.name for g in english.groups}
    assert everything(german) != everything(english)
    assert english_in(everything(german)) == []
    assert english_in(" | ".join(g.title for g in german.groups)) == []


def test_titles_of_openings_pieces_and_strips(german: None) -> None:
    path = ROOT / "sample_svgs" / "lantern.svg"
    card = case_of(read_drawing(etree.fromstring(path.read_bytes()), path.name), PROFILE).card
    titles = [group.title for group in opening_groups(card.openings)]
    assert titles == [f"Fenster {opening.number}" for opening in card.openings]
    (piece,) = piece_groups([(2, shapely.box(0.0, 0.0, 90.0, 60.0), ())])
    assert piece.title == "Stück 2"
    strip, nothing = card.strips[0], shapely.Point()
    signed = (Signed(strip, "positive", "P1"), Signed(strip, "negative", "M1"))
    assert [g.title for g in sign_groups(signed, nothing)] == [
        "Plusstreifen P1",
        "Minusstreifen M1",
    ]


def parts() -> list[part_shapes.PartDrawing]:
    cell = PROFILE.cells["cr2032"]
    housing = next(iter(PROFILE.holders.values()))
    return [
        *(part_shapes.light(name, kind) for name, kind in PROFILE.lights.items()),
        *(
            part_shapes.bare_cell("cr2032", cell, closes=way)
            for way in ("press", "slide", "tab", "open", "always")
        ),
        part_shapes.flap_cell("cr2032", cell),
        part_shapes.holder(housing, PROFILE.cells[housing.cell], closes="slide"),
        part_shapes.switch(),
        part_shapes.switch("press"),
        part_shapes.resistor(4.7),
        part_shapes.pull_tab(30.0),
        part_shapes.patch(9.5, 12.0),
        part_shapes.rim_patch("cr2032", cell, 2.0),
    ]


def test_titles_of_parts(catalogs: Path) -> None:
    """Only titles are German: attributes are what drawings hold."""
    english = parts()
    with in_german(catalogs):
        german = parts()
    for one, other in zip(english, german, strict=True):
        assert one.title != other.title
        assert english_in(other.title) == []
        assert (one.kind, one.attributes) == (other.kind, other.attributes)
    titles = [part.title for part in german]
    assert "Licht, warmweiß" in titles
    assert "Batterie CR2032, Klappe" in titles
    assert "Widerstand, 4,7 Ohm" in titles
    assert "Papierstück, 9,5 x 12 mm" in titles
