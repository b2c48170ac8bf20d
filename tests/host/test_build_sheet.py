"""Print the making sheet, in the real editor."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pdfplumber
import pytest
from lxml import etree

from .editor import ROOT, Editor, missing_for_menu

pytestmark = pytest.mark.editor

ACTION = "org.underlit.make-build-sheet"
ENTRY = "7 Print the making sheet"
PICTURES = ROOT / "build" / "editor"
CARD = ROOT / "sample_svgs" / "firefly-jar.svg"

menu = pytest.mark.skipif(missing_for_menu() is not None, reason=str(missing_for_menu()))


def test_a_batch_run_writes_what_a_shell_writes(editor: Editor, tmp_path: Path) -> None:
    here, there = tmp_path / "shell", tmp_path / "host"
    here.mkdir()
    there.mkdir()
    command = [sys.executable, str(ROOT / "extension" / "make_build_sheet.py"), str(CARD)]
    subprocess.run(
        [*command, "--folder", str(here), "--output", str(tmp_path / "o.svg")], check=True
    )
    editor.run(CARD, ACTION, {"folder": str(there), "tell": "false"})
    names = sorted(path.name for path in there.iterdir())
    assert names == [
        f"firefly-jar-{end}"
        for end in ("build-sheet.pdf", "build-sheet.svg", "share.html", "supplies.csv")
    ]
    ours = {path.suffix: path for path in here.iterdir()}
    for path in there.iterdir():
        assert path.stat().st_size == pytest.approx(ours[path.suffix].stat().st_size, rel=0.02)


def drawn(path: Path) -> list[tuple[str | None, ...]]:
    """Every drawn object: its shape, place and look (the editor gives ids to what has none)."""
    keys = ("d", "transform", "x", "y", "width", "height", "style")
    root = etree.parse(str(path)).getroot()
    layers = [layer for layer in root if layer.tag.endswith("}g")]
    return [tuple(map(el.get, keys)) for layer in layers for el in layer.iter()]


@menu
def test_the_menu_entry_prints_and_leaves_the_drawing_unchanged(
    editor: Editor, tmp_path: Path
) -> None:
    own, there = tmp_path / CARD.name, tmp_path / "files"
    shutil.copy(CARD, own)
    before = drawn(own)
    there.mkdir()
    editor.prefer(ACTION, {"tell": "true", "folder": str(there), "copies": "12"})
    seen = editor.use_menu(own, ENTRY, PICTURES / "making-sheet.png")
    assert f"{ENTRY}..." in seen["entries"]
    labels = {text for role, text in seen["dialog"] if role == "label"}
    assert {"Paper:", "True-size pages:", "How many cards:", "Price list:"} <= labels
    told = "\n".join(seen["told"])
    assert "pages saved. Measure the 100 mm line before you cut." in told
    assert "Keep coin batteries away from children." in told
    assert drawn(own) == before
    with pdfplumber.open(there / "firefly-jar-build-sheet.pdf") as pdf:
        assert "What you need for 12 cards" in "\n".join(p.extract_text() for p in pdf.pages)
    assert (there / "firefly-jar-share.html").stat().st_size < 1_000_000
