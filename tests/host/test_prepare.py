"""Get the drawing ready, in the real editor."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from lxml import etree

from .editor import ROOT, Editor, missing_for_menu

pytestmark = pytest.mark.editor

ACTION = "org.underlit.prepare-card"
ENTRY = "1 Get the drawing ready"
PICTURES = ROOT / "build" / "editor"

U = "{urn:underlit:card:1}"
SVG = "{http://www.w3.org/2000/svg}"
LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"

menu = pytest.mark.skipif(missing_for_menu() is not None, reason=str(missing_for_menu()))


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """The die-cut outlines of a sample without anything else, on a layer of no meaning."""
    document = etree.parse(str(ROOT / "sample_svgs" / "night-garden.svg"))
    for layer in document.getroot().findall(f"{SVG}g"):
        if layer.get(LABEL) == "Die cut":
            layer.set(LABEL, "Layer 1")
        else:
            layer.getparent().remove(layer)
    path = tmp_path / "bare.svg"
    document.write(str(path))
    return path


def windows(path: Path) -> list[str]:
    root = etree.parse(str(path)).getroot()
    return [str(g.get(U + "opening")) for g in root.iter(f"{SVG}g") if g.get(U + "opening")]


def test_a_batch_run_reports_as_a_shell_does(editor: Editor, bare: Path, tmp_path: Path) -> None:
    here, there = tmp_path / "shell.json", tmp_path / "host.json"
    command = [sys.executable, str(ROOT / "extension" / "prepare_card.py"), str(bare)]
    out = tmp_path / "shell.svg"
    subprocess.run([*command, "--output", str(out), "--report", str(here)], check=True)
    done = editor.run(bare, ACTION, {"report": str(there)})
    assert there.read_bytes() == here.read_bytes()
    assert windows(done) == windows(out)
    assert len(windows(done)) == len(json.loads(here.read_text())["card"]["openings"]) == 14


def test_the_selected_edge_becomes_the_panel(editor: Editor, tmp_path: Path) -> None:
    sheet = tmp_path / "sheet.svg"
    sheet.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" '
        'viewBox="0 0 210 297"><rect id="a" x="5" y="5" width="100" height="90"/>'
        '<rect id="b" x="5" y="105" width="100" height="140"/>'
        '<circle id="c" cx="50" cy="160" r="9"/></svg>'
    )
    report = tmp_path / "report.json"
    editor.run(sheet, ACTION, {"report": str(report)}, select=("b",))
    told = json.loads(report.read_text())
    assert told["card"]["panel"] == [100.0, 140.0]
    assert [o["name"] for o in told["card"]["openings"]] == ["c"]


@menu
def test_through_the_real_menu(editor: Editor, bare: Path) -> None:
    editor.prefer(ACTION, {})
    seen = editor.use_menu(bare, ENTRY, PICTURES / "prepare.png")
    assert ["check box", "Draw a back sheet if there is none"] in seen["dialog"]
    assert any("Panel 148 x 148 mm" in text for text in seen["told"])
    assert seen["changed"]
    assert len(windows(bare)) == 14
