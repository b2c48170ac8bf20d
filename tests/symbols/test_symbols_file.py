"""The symbols file: written by its script, complete, life size, readable in every document."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from lxml import etree

from symbols.write_symbols import FILE, ROOT, parts, symbols
from underlit.interpretation.card import read_card
from underlit.profiles import load_profile
from underlit_host.read_drawing import read_drawing

SVG = "{http://www.w3.org/2000/svg}"
HREF = "{http://www.w3.org/1999/xlink}href"
UNDERLIT = "{urn:underlit:card:1}"
PROFILE = load_profile("hand-laid")
PARTS = dict(parts(PROFILE))

#: As the host puts a symbol of the file into a document (measured on 1.2.2): in px it scales it.
DOCUMENTS = {
    "mm": ('width="300mm" height="400mm" viewBox="0 0 300 400"', 1.0),
    "px": ('width="1133.858" height="1511.811"', 96.0 / 25.4),
}


def with_all(page: str, turn: float = 0.0) -> etree._Element:
    """A document with every symbol cloned once, as the host would."""
    head, k = DOCUMENTS[page]
    root = etree.fromstring(
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" {head}>'
        f'<defs/><g id="t" inkscape:groupmode="layer" inkscape:label="Tape"/></svg>'
    )
    for symbol in etree.fromstring(symbols()).iter(SVG + "symbol"):
        root[0].append(symbol)
    for i, name in enumerate(PARTS):
        x, y = (i % 4 * 72 + 30) * k, (i // 4 * 42 + 20) * k
        where = f"translate({x},{y}) scale({k}) rotate({turn})"
        target = {HREF: f"#underlit-{name}", "id": name, "transform": where}
        etree.SubElement(root[1], SVG + "use", target)
    return root


def test_the_script_writes_the_committed_file_byte_for_byte() -> None:
    assert symbols() == FILE.read_bytes()
    assert len(PARTS) == 34


def test_every_type_of_the_profile_can_be_dragged() -> None:
    kinds = Counter(part.kind for part in PARTS.values())
    lights = {p.attributes["type"] for p in PARTS.values() if p.kind == "light"}
    assert lights == set(PROFILE.lights)
    for prefix in ("bare-", "flap-"):
        cells = {p.attributes["type"] for n, p in PARTS.items() if n.startswith(prefix)}
        assert cells == set(PROFILE.cells)
    ways = {p.attributes["closes"] for p in PARTS.values() if p.kind == "cell"}
    assert ways == {"press", "slide", "flap", "always"}
    assert set(kinds) == {"light", "cell", "switch", "resistor", "pull-tab", "patch"}


def test_a_symbol_has_a_name_of_its_own_and_its_attributes_inside() -> None:
    root = etree.parse(str(FILE)).getroot()
    found = list(root.iter(SVG + "symbol"))
    titles = [symbol.findtext(SVG + "title") for symbol in found]
    assert len(set(titles)) == len(found) == len(PARTS)
    for symbol in found:
        assert not any(name.startswith(UNDERLIT) for name in symbol.attrib)
        (group,) = symbol.findall(SVG + "g")
        assert group.get(UNDERLIT + "part")
    assert not list(root.iter(SVG + "text", SVG + "image"))


@pytest.mark.parametrize("turn", [0.0, 37.0])
@pytest.mark.parametrize("page", DOCUMENTS)
def test_every_symbol_reads_as_a_whole_part_of_the_right_size(page: str, turn: float) -> None:
    reading = read_card(read_drawing(with_all(page, turn), "all.svg"), "fold")
    assert not reading.parts.incomplete
    assert not reading.parts.strays
    by_id = {part.id: part for part in reading.parts.complete}
    for name, part in PARTS.items():
        if part.kind == "patch":
            continue
        back = by_id.pop(name)
        assert dict(back.attributes) == {"part": part.kind, **part.attributes}
        assert back.scale == pytest.approx((1.0, 1.0), abs=1e-4)
        assert not back.mirrored
    assert not by_id
    assert len(reading.card.patches) == sum(p.kind == "patch" for p in PARTS.values())
    assert not reading.card.strips
    for part in reading.card.lights:
        sides = np.hypot(*np.diff(np.array(part.body.oriented_envelope.exterior.coords), axis=0).T)
        assert sorted(sides)[::2] == pytest.approx(sorted(PROFILE.lights[part.type].body), abs=0.01)


@pytest.mark.parametrize("page", DOCUMENTS)
def test_validating_finds_nothing_wrong_with_any(page: str, tmp_path: Path) -> None:
    drawing = tmp_path / "all.svg"
    drawing.write_bytes(etree.tostring(with_all(page, 90.0)))
    rules = rules_of(drawing, tmp_path)
    assert not rules & {"part-incomplete", "part-resized", "parts-overlap", "object-skipped"}


def rules_of(drawing: Path, folder: Path) -> set[str]:
    """Codes of all findings on a drawing."""
    report = folder / "report.json"
    command = [sys.executable, str(ROOT / "extension" / "validate_card.py"), str(drawing)]
    more = ["--output", str(folder / "out.svg"), "--report", str(report)]
    subprocess.run([*command, *more], check=True, capture_output=True)
    return {one["rule"] for one in json.loads(report.read_text(encoding="utf-8"))["findings"]}
