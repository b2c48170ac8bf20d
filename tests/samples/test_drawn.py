"""The cards of *Harbour Lane* as drawings: reproducible, and between them one of every kind."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from samples.write_samples import CARDS, FOLDER, write

LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"
ROLE, PART, GLUED = (f"{{urn:underlit:card:1}}{name}" for name in ("role", "part", "glued"))
HREF = "{http://www.w3.org/1999/xlink}href"
SVG = "{http://www.w3.org/2000/svg}"

LIGHTS = {"lantern": 1, "lighthouse": 3, "firefly-jar": 5, "street": 12, "night-garden": 8}


def _root(name: str) -> ElementTree.Element:
    return ElementTree.parse(FOLDER / name).getroot()


def _layer(root: ElementTree.Element, ident: str) -> ElementTree.Element:
    return next(g for g in root.iter(f"{SVG}g") if g.get("id") == f"layer-{ident}")


def test_the_script_writes_the_committed_files_byte_for_byte(tmp_path: Path) -> None:
    write(tmp_path)
    for name in CARDS:
        assert (tmp_path / name).read_bytes() == (FOLDER / name).read_bytes(), name


def test_every_card_in_the_folder_is_drawn_by_the_script() -> None:
    assert sorted(path.name for path in FOLDER.glob("*.svg")) == sorted(CARDS)


@pytest.mark.parametrize("name", sorted(CARDS))
def test_number_of_lights(name: str) -> None:
    lights = _layer(_root(name), "lights")
    assert len(list(lights)) == LIGHTS[name.removesuffix(".svg")]


@pytest.mark.parametrize("name", sorted(CARDS))
def test_ids_are_unique_and_links_lead_somewhere(name: str) -> None:
    root = _root(name)
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    targets = {e.get(HREF, "")[1:] for e in root.iter(f"{SVG}use")}
    assert targets <= set(ids)


def test_lantern_is_foil_that_does_not_conduct_on_a_translated_layer() -> None:
    root = _root("lantern.svg")
    assert '"use": "foil-5-plain"' in root.get("{urn:underlit:card:1}settings", "")
    tape = _layer(root, "tape")
    assert (tape.get(LABEL), tape.get(ROLE)) == ("Klebeband", "tape")
    strips = [e for e in tape if e.get(PART) != "patch"]
    assert len(strips) == 2


def test_lighthouse_has_a_flap_and_a_hidden_layer() -> None:
    root = _root("lighthouse.svg")
    (fold,) = _layer(root, "folds")
    assert fold.get("{urn:underlit:card:1}folds") == "battery"
    hidden = [g.get("id") for g in root.iter(f"{SVG}g") if "display:none" in g.get("style", "")]
    assert hidden == ["layer-foam"]


def test_firefly_jar_is_in_px_with_turned_clones() -> None:
    root = _root("firefly-jar.svg")
    assert re.fullmatch(r"[\d.]+", root.get("width", ""))
    assert root.get("viewBox") == f"0 0 {root.get('width')} {root.get('height')}"
    clones = list(_layer(root, "lights").iter(f"{SVG}use"))
    assert len([c for c in clones if "rotate(" in c.get("transform", "")]) >= 3


def test_street_is_one_compound_path_with_clones_of_a_symbol_and_classes() -> None:
    root = _root("street.svg")
    (front,) = _layer(root, "die-cut")
    assert front.get("d", "").count("Z") == 13
    symbols = [f"#{s.get('id')}" for s in root.iter(f"{SVG}symbol")]
    clones = list(_layer(root, "lights").iter(f"{SVG}use"))
    assert {c.get(HREF) for c in clones} == set(symbols)
    assert {s.get("class") for s in _layer(root, "tape")} == {"plus", "minus"}


def test_night_garden_has_glued_pieces_a_filled_strip_a_crossing_and_a_cover() -> None:
    root = _root("night-garden.svg")
    assert sum(e.get(GLUED) == "true" for e in _layer(root, "die-cut")) == 3
    tape = {e.get("id"): e for e in _layer(root, "tape")}
    assert "stroke:none" in tape["minus-rail"].get("style", "")
    assert list(tape) == ["plus-strip", "minus-rail", "crossing-paper", "minus-crossing"]
    assert tape["crossing-paper"].get(PART) == "patch"
    assert len(list(_layer(root, "cover"))) == 1
