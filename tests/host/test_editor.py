"""The extension in the real editor: batch runs and the real menu."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from lxml import etree

import launch

from .editor import ROOT, Editor, missing_for_menu

pytestmark = pytest.mark.editor

ACTION = "org.underlit.validate-card"
ENTRY = "5 Validate my card"
SAMPLE = ROOT / "sample_svgs" / "firefly-jar.svg"
SAMPLES = sorted((ROOT / "sample_svgs").rglob("*.svg"))
PICTURES = ROOT / "build" / "editor"

LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"
MADE = "{urn:underlit:card:1}made"

menu = pytest.mark.skipif(missing_for_menu() is not None, reason=str(missing_for_menu()))


def made(path: Path) -> int:
    """How many objects of a drawing were made by the action."""
    root = etree.parse(str(path)).getroot()
    return sum((e.get(MADE) or "").startswith("validate:") for e in root.iter())


def in_shell(card: Path, target: Path, report: Path) -> None:
    """The same action without the editor."""
    command = [sys.executable, str(ROOT / "extension" / "validate_card.py"), str(card)]
    subprocess.run([*command, "--output", str(target), "--report", str(report)], check=True)


def names_of_entries() -> list[str]:
    """The menu words of every entry, as the host sorts them (an output extension is none)."""
    own = "{http://www.inkscape.org/namespace/inkscape/extension}"
    roots = [etree.parse(str(p)).getroot() for p in (ROOT / "extension").glob("*.inx")]
    return sorted(
        str(r.findtext(f"{own}name")) for r in roots if r.find(f"{own}effect") is not None
    )


@pytest.fixture
def card(tmp_path: Path) -> Path:
    """A copy of a sample that the editor may save over."""
    return Path(shutil.copy(SAMPLE, tmp_path / "card.svg"))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_a_batch_run_marks_the_card_and_reports_as_a_shell_does(
    editor: Editor, sample: Path, tmp_path: Path
) -> None:
    card = Path(shutil.copy(sample, tmp_path / sample.name))
    here, there = tmp_path / "shell.json", tmp_path / "host.json"
    in_shell(card, tmp_path / "shell.svg", here)
    out = editor.run(card, ACTION, {"report": str(there)})
    assert made(out) == made(tmp_path / "shell.svg") > made(card)
    assert there.read_bytes() == here.read_bytes()


def test_the_host_loads_every_entry(editor: Editor, card: Path) -> None:
    editor.run(card, ACTION)
    assert "underlit" not in editor.errors.lower()


def test_the_dialogs_choice_of_profile_arrives(editor: Editor, card: Path) -> None:
    out = editor.run(card, ACTION, {"profile": "classroom"})
    root = etree.parse(str(out)).getroot()
    assert root.get("{urn:underlit:card:1}profile") == "classroom"


@menu
def test_a_missing_environment_says_what_to_do(fresh_editor: Editor, card: Path) -> None:
    pointer = fresh_editor.extension / launch.POINTER
    pointer.write_text(f"{fresh_editor.profile / 'gone'}\n", encoding="utf-8")
    fresh_editor.prefer(ACTION, {})
    seen = fresh_editor.use_menu(card, ENTRY, PICTURES / "missing.png")
    sentence = launch.SETUP.format(what="its Python environment is missing")
    assert [text for text in seen["told"] if sentence in text]
    assert not seen["changed"]
    assert made(card) == 0


@menu
def test_through_the_real_menu(editor: Editor, card: Path) -> None:
    editor.prefer(ACTION, {})
    seen = editor.use_menu(card, ENTRY, PICTURES / "validate.png")
    assert [entry.rstrip(".…") for entry in seen["entries"]] == names_of_entries()
    assert ["check box", "Tell me the result when done"] in seen["dialog"]
    assert any("Circuit ready." in text for text in seen["told"])
    assert seen["changed"]
    assert not seen["title"].startswith("*")
    assert made(card) > 0


@menu
def test_the_first_faulty_object_is_selected(editor: Editor, card: Path, tmp_path: Path) -> None:
    shutil.copy(ROOT / "sample_svgs" / "faulty" / "light-reversed.svg", card)
    report = tmp_path / "report.json"
    in_shell(card, tmp_path / "shell.svg", report)
    (first, *_) = json.loads(report.read_text(encoding="utf-8"))["findings"]
    editor.prefer(ACTION, {})
    seen = editor.use_menu(card, ENTRY, PICTURES / "fault.png")
    assert any("Not ready yet." in text for text in seen["told"])
    assert first["rule"] == "light-reversed"
    assert seen["selected"] == first["objects"]
