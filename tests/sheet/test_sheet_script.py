"""The script from a shell: files, exit codes, one sentence for what is wrong."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from kit.run import ROOT

from .made import script

STREET = ROOT / "sample_svgs" / "street.svg"


def run(folder: Path, *options: str, drawing: Path = STREET) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, str(script("make_build_sheet")), *options, str(drawing)]
    command += ["--output", str(folder / "out.svg")]
    return subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)


def test_writes_its_files_and_leaves_the_drawing(tmp_path: Path) -> None:
    report = tmp_path / "report.json"
    done = run(tmp_path, "--folder", str(tmp_path), "--report", str(report), "--copies", "4")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("12 pages saved. Measure the 100 mm line before you cut.")
    told = json.loads(report.read_text())
    assert told["supplies"]["copies"] == 4
    for name in told["supplies"]["files"]:
        assert (tmp_path / name).stat().st_size > 100
    assert list(told)[-2:] == ["supplies", "share"]
    assert told["action"] == "build-sheet"
    from lxml import etree

    def paths(path: Path) -> list[str]:
        return [p.get("d", "") for p in etree.parse(str(path)).iter("{*}path")]

    assert paths(tmp_path / "out.svg") == paths(STREET)


@pytest.mark.parametrize(
    ("options", "word"),
    [
        (("--copies", "0"), "--copies"),
        (("--copies", "many"), "--copies"),
        (("--paper", "60x90"), "too small"),
        (("--paper", "napkin"), "--paper"),
        (("--pages", "poster"), "--pages"),
        (("--colours", "red"), "A colour plan takes 2 to 20 colours"),
        (("--colours", "red,blue", "--refill", "some"), "--refill"),
        (("--prices", "no-such.csv"), "no price list"),
        (("--folder", "/no/such/folder"), "no folder"),
    ],
)
def test_bad_input_is_one_sentence_and_no_file(
    tmp_path: Path, options: tuple[str, ...], word: str
) -> None:
    given = options if "--folder" in options else ("--folder", str(tmp_path), *options)
    done = run(tmp_path, *given)
    assert done.returncode == 1
    assert done.stdout == ""
    assert word in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_nothing_half_written_into_a_folder_that_refuses(tmp_path: Path) -> None:
    locked = tmp_path / "locked"
    locked.mkdir(mode=0o555)
    done = run(tmp_path, "--folder", str(locked))
    locked.chmod(0o755)
    assert done.returncode == 1
    assert "read-only" in done.stderr
    assert not any(locked.iterdir())
    assert not (tmp_path / "out.svg").exists()


def test_replaces_only_when_told(tmp_path: Path) -> None:
    old = tmp_path / "street-build-sheet.svg"
    old.write_text("mine")
    assert run(tmp_path, "--folder", str(tmp_path)).returncode == 1
    assert old.read_text() == "mine"
    assert len(list(tmp_path.iterdir())) == 1
    assert run(tmp_path, "--folder", str(tmp_path), "--overwrite", "true").returncode == 0
    assert old.read_text() != "mine"
