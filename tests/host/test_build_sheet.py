"""Print the making sheet, in the real editor."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from .editor import ROOT, Editor

pytestmark = pytest.mark.editor

ACTION = "org.underlit.make-build-sheet"
CARD = ROOT / "sample_svgs" / "firefly-jar.svg"


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
