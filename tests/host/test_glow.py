"""Show the glow, in the real editor: the same as from a shell, and visible."""

from __future__ import annotations

import base64
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from lxml import etree

from glow.read_png import read_png

from .editor import PATIENCE, ROOT, Editor, missing_for_menu

pytestmark = pytest.mark.editor

ACTION = "org.underlit.preview-glow"
ENTRY = "6 Show the glow"
PICTURES = ROOT / "build" / "editor"
JAR = ROOT / "sample_svgs" / "firefly-jar.svg"
SVG = "{http://www.w3.org/2000/svg}"
HREF = "{http://www.w3.org/1999/xlink}href"

menu = pytest.mark.skipif(missing_for_menu() is not None, reason=str(missing_for_menu()))


def pictures(path: Path) -> list[bytes]:
    found = etree.parse(str(path)).getroot().iter(f"{SVG}image")
    return [base64.b64decode(str(el.get(HREF)).partition(",")[2]) for el in found]


def test_a_batch_run_draws_and_reports_as_a_shell_does(editor: Editor, tmp_path: Path) -> None:
    here, there = tmp_path / "shell.json", tmp_path / "host.json"
    out = tmp_path / "shell.svg"
    command = [sys.executable, str(ROOT / "extension" / "preview_glow.py"), str(JAR)]
    command += ["--depth", "6", "--output", str(out), "--report", str(here)]
    subprocess.run(command, check=True, timeout=60)
    png = tmp_path / "host.png"
    wishes = {"depth": "6", "png": str(png), "report": str(there), "tell": "false"}
    done = editor.run(JAR, ACTION, wishes)
    assert there.read_bytes() == here.read_bytes()
    assert pictures(done) == pictures(out) == [png.read_bytes()]


def test_the_host_shows_the_picture_over_the_panel(editor: Editor, tmp_path: Path) -> None:
    """The editor's own rendering, one pixel to 0.1 mm: as our picture, dark outside it."""
    done = editor.run(JAR, ACTION, {"tell": "false"})
    ours, _ = read_png(pictures(done)[0])
    seen = tmp_path / "seen.png"
    rgba = tmp_path / "seen.rgba"
    subprocess.run(
        ["inkscape", "--export-type=png", "--export-area=37.795:37.795:434.646:597.165",
         "--export-width=1050", "--export-height=1480", f"--export-filename={seen}", str(done)],
        check=True, capture_output=True, timeout=PATIENCE,
    )  # fmt: skip
    subprocess.run(["convert", str(seen), "-depth", "8", f"rgba:{rgba}"], check=True, timeout=30)
    shown = np.fromfile(rgba, dtype=np.uint8).reshape(1480, 1050, 4)
    assert ours.shape == shown.shape
    inside = (slice(20, -20), slice(20, -20), slice(0, 3))
    gap = np.abs(shown[inside].astype(int) - ours[inside].astype(int))
    assert np.percentile(gap, 99) <= 6
    assert shown[inside].max() > 240


@menu
def test_through_the_real_menu(editor: Editor, tmp_path: Path) -> None:
    card = tmp_path / "card.svg"
    card.write_bytes(JAR.read_bytes())
    editor.prefer(ACTION, {})
    seen = editor.use_menu(card, ENTRY, PICTURES / "glow.png")
    assert ["check box", "Show all lights as if they burned"] in seen["dialog"]
    assert any("Glow drawn, as in a dim room." in text for text in seen["told"])
    assert seen["changed"]
    assert len(pictures(card)) == 1
