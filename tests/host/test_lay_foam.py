"""Lay the foam, in the real editor: by its id and through the menu."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from lxml import etree

from .editor import ROOT, Editor, missing_for_menu

pytestmark = pytest.mark.editor

ACTION, ENTRY = "org.underlit.lay-foam", "Lay the foam"
PICTURES = ROOT / "build" / "editor"
SAMPLE = ROOT / "sample_svgs" / "lantern.svg"
MADE = "{urn:underlit:card:1}made"

menu = pytest.mark.skipif(missing_for_menu() is not None, reason=str(missing_for_menu()))


@pytest.fixture
def card(tmp_path: Path) -> Path:
    return Path(shutil.copy(SAMPLE, tmp_path / "card.svg"))


def made(path: Path) -> set[str]:
    root = etree.parse(str(path)).getroot()
    return {str(e.get("id")) for e in root.iter() if e.get(MADE) == f"lay_foam:{e.get('id')}"}


@pytest.mark.parametrize("style", ["pads", "frame"])
def test_a_batch_run_lays_what_a_shell_lays(
    editor: Editor, card: Path, tmp_path: Path, style: str
) -> None:
    here, there, out = (tmp_path / n for n in ("shell.json", "host.json", "shell.svg"))
    command = [sys.executable, str(ROOT / "extension" / "lay_foam.py"), str(card)]
    command += ["--style", style, "--diffuser", "true", "--output", str(out)]
    subprocess.run([*command, "--report", str(here)], check=True, timeout=60, capture_output=True)
    values = {"style": style, "diffuser": "true", "report": str(there)}
    done = editor.run(card, ACTION, values)
    assert json.loads(there.read_text()) == json.loads(here.read_text())
    assert made(done) == made(out)
    assert len(made(done)) > 10


@menu
def test_through_the_real_menu(editor: Editor, card: Path) -> None:
    editor.prefer(ACTION, {})
    seen = editor.use_menu(card, ENTRY, PICTURES / "foam.png")
    assert any("of foam laid" in text for text in seen["told"])
    assert any("3 mm in two layers" in text for text in seen["told"])
    assert seen["changed"]
    assert len(made(card)) > 10
