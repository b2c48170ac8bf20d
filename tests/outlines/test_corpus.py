"""Outlines as they really come: each file of the corpus is read as it is meant.

How the files were made, and how the expected numbers are known: `make.py` beside this.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from underlit.interpretation.card import Reading, read_card
from underlit.profiles import load_profile
from underlit.workflows.prepare import prepare
from underlit_host.arranging import add_layers
from underlit_host.choosing import arrange
from underlit_host.first_look import check_bytes
from underlit_host.preparing import draw_openings
from underlit_host.read_drawing import read_drawing

HERE = Path(__file__).parent
FILES = sorted((HERE / "corpus").glob("*.svg"))
EXPECTED: dict[str, dict[str, Any]] = json.loads((HERE / "expected.json").read_text("utf-8"))

#: Numbers that must be right in every file; the others where they are known.
ALWAYS = ("panels", "openings", "loose")

#: Files whose drawing leaves open what is meant; more would mean that reading is not good enough.
MOST_DOUBTFUL = 5


def parse(data: bytes) -> etree._Element:
    return etree.fromstring(data, etree.XMLParser(resolve_entities=False, huge_tree=True))


def read(path: Path) -> Reading:
    """Read and interpret one file; its tree must stay byte for byte what it was."""
    data = path.read_bytes()
    check_bytes(data)
    root = parse(data)
    before = hashlib.sha256(etree.tostring(root)).hexdigest()
    reading = read_card(read_drawing(root, path.name), "fold")
    assert hashlib.sha256(etree.tostring(root)).hexdigest() == before
    assert path.read_bytes() == data
    return reading


def numbers(reading: Reading) -> dict[str, int]:
    """What was read, by the names of expected.json."""
    seen = reading.outlines
    return {
        "panels": len(seen.panels),
        "openings": len(seen.openings),
        "loose": len(seen.loose),
        "through": sum(opening.through for opening in seen.openings),
        "scores": seen.scores,
        "doubled": seen.doubled,
        "coincident": seen.coincident,
        "specks": seen.specks,
        "notches": seen.notches,
    }


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_outline_is_read_as_meant(path: Path) -> None:
    expected = EXPECTED[path.name]
    reading = read(path)
    got = numbers(reading)
    wanted = {name: expected[name] for name in got if name in expected}
    assert {name: got[name] for name in wanted} == wanted
    assert set(expected["told"]) <= {finding.rule for finding in reading.findings}


def test_corpus_is_whole() -> None:
    assert len(FILES) >= 60
    assert {path.name for path in FILES} == set(EXPECTED)
    assert all(name in row for row in EXPECTED.values() for name in ALWAYS)
    assert all(path.stat().st_size < 60_000 for path in FILES)
    assert sum(path.stat().st_size for path in FILES) < 1_500_000


def test_hardly_any_outline_is_doubtful() -> None:
    doubtful = [row for row in EXPECTED.values() if row.get("doubtful")]
    assert len(doubtful) <= MOST_DOUBTFUL
    assert all(row["told"] for row in doubtful)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_opening_and_piece_has_a_place_inside(path: Path) -> None:
    from shapely.geometry import Point

    seen = read(path).outlines
    for thing in (*seen.openings, *seen.loose):
        assert thing.outline.is_valid
        assert thing.outline.contains(Point(thing.at))
    assert [opening.number for opening in seen.openings] == list(range(1, len(seen.openings) + 1))


def prepared(data: bytes) -> tuple[etree._Element, list[tuple[object, ...]]]:
    """A drawing after Prepare, and what every element of it was before: still the same objects."""
    root = parse(data)
    before = [(element, state(element)) for element in root.iter()]
    arrange(root, [], [], [], "auto")
    outcome = prepare(read_drawing(root, "card.svg"), load_profile("hand-laid", {}, None), None)
    if not outcome.untouched:
        add_layers(root, outcome.layers)
        draw_openings(root, outcome.groups)
    return root, before


def state(element: etree._Element) -> tuple[object, ...]:
    return (element.getparent(), element.tag, dict(element.attrib), element.text)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_prepare_leaves_every_object_of_the_maker_alone(path: Path) -> None:
    root, before = prepared(path.read_bytes())
    for element, was in before[1:]:
        assert state(element) == was
    own = {id(element) for element, _ in before}
    assert [id(e) for e in root.iter() if id(e) in own] == [id(e) for e, _ in before]
    once = etree.tostring(root)
    again, _ = prepared(once)
    assert etree.tostring(again) == once
