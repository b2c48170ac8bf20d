"""The script of the README, word for word: from a bare outline to everything that is printed."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


@pytest.mark.skipif(shutil.which("bash") is None, reason="needs a shell")
def test_the_whole_way_from_a_shell(tmp_path: Path) -> None:
    (block,) = re.findall(r"```sh\n(mkdir -p my-card\n.*?)```", README, flags=re.DOTALL)
    for name in ("extension", "sample_svgs"):
        (tmp_path / name).symlink_to(ROOT / name)
    block = block.replace(".venv/bin/python", sys.executable)
    done = subprocess.run(
        ["bash", "-euo", "pipefail", "-c", block],
        cwd=tmp_path, capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, ""), done.stdout
    made = {path.name for path in (tmp_path / "my-card").iterdir()}
    ends = ("tape.svg", "tape.dxf", "foam.svg", "build-sheet.pdf", "share.html")
    assert {"lantern.svg", "report.json", "glow.png", *(f"lantern-{end}" for end in ends)} <= made
    report = json.loads((tmp_path / "my-card" / "report.json").read_text(encoding="utf-8"))
    assert report["verdict"] == "ready"
    assert [light["lit"] for light in report["lights"]] == [True]
    assert "NOT READY" not in done.stdout
