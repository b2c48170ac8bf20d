"""Put in the battery, in the real editor: the selected shape is the spot."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from lxml import etree

from .editor import ROOT, Editor

pytestmark = pytest.mark.editor

ACTION = "org.underlit.place-power"

U = "{urn:underlit:card:1}"
SVG = "{http://www.w3.org/2000/svg}"

CARD = (
    '<svg xmlns="http://www.w3.org/2000/svg" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
    'width="210mm" height="297mm" viewBox="0 0 210 297">'
    '<g inkscape:groupmode="layer" inkscape:label="Die cut" id="cuts">'
    '<rect id="panel" width="148" height="105"/><circle id="hole" cx="30" cy="30" r="9"/></g>'
    '<g inkscape:groupmode="layer" inkscape:label="Picture" id="picture">'
    '<circle id="moon" cx="90" cy="50" r="9"/></g></svg>'
)


@pytest.fixture
def card(tmp_path: Path) -> Path:
    path = tmp_path / "card.svg"
    path.write_text(CARD)
    return path


def made(path: Path) -> set[str]:
    root = etree.parse(str(path)).getroot()
    return {
        str(e.get("id"))
        for e in root.iter(f"{SVG}*")
        if e.get(U + "made") == f"place_power:{e.get('id')}"
    }


def test_the_selected_shape_is_the_spot(editor: Editor, card: Path, tmp_path: Path) -> None:
    here, there = tmp_path / "shell.json", tmp_path / "host.json"
    out = tmp_path / "shell.svg"
    command = [sys.executable, str(ROOT / "extension" / "place_power.py"), str(card)]
    command += ["--id", "moon", "--output", str(out), "--report", str(here)]
    subprocess.run(command, check=True, timeout=60, capture_output=True)
    done = editor.run(card, ACTION, {"report": str(there)}, select=("moon",))
    assert json.loads(there.read_text()) == json.loads(here.read_text())
    assert made(done) == made(out)
    assert {"battery", "press-ring", "rim-paper", "pull-tab"} <= made(done)


def test_replacing_in_the_editor(editor: Editor, card: Path, tmp_path: Path) -> None:
    first = editor.run(card, ACTION, {}, select=("moon",), out=tmp_path / "first.svg")
    report = tmp_path / "second.json"
    values = {"type": "plain-20", "closes": "always", "replace": "true", "report": str(report)}
    second = editor.run(first, ACTION, values, select=("moon",), out=tmp_path / "second.svg")
    told = json.loads(report.read_text())["placement"]
    assert (told["holder"], told["at"]) == ("plain-20", [90.0, 50.0])
    assert "press-ring" not in made(second)
    assert "battery" in made(second)
