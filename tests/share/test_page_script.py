"""The page from a shell: which files are written, and that it agrees with validating."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from benchmarks.tiled import tiled_card
from kit.run import ROOT
from sheet.made import sample, script

from .made import shared

STREET = ROOT / "sample_svgs" / "street.svg"
SHEET = {"street-build-sheet.pdf", "street-build-sheet.svg", "street-supplies.csv"}
PAGE = {"street-share.html"}


def run(folder: Path, *options: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, str(script("make_build_sheet")), str(STREET), "--folder"]
    command += [str(folder), "--output", str(folder / "out.svg"), *options]
    return subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)


def written(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()} - {"out.svg"}


@pytest.mark.parametrize(
    ("pages", "files"),
    [
        ("", SHEET | PAGE),
        ("all", SHEET | PAGE),
        ("share", PAGE),
        ("trace", SHEET),
        ("trace,share", SHEET | PAGE),
        ("none", SHEET),
        ("none,share", SHEET | PAGE),
    ],
)
def test_pages_choose_what_is_written(tmp_path: Path, pages: str, files: set[str]) -> None:
    done = run(tmp_path, *(("--pages", pages) if pages else ()))
    assert (done.returncode, done.stderr) == (0, "")
    assert written(tmp_path) == files
    assert ("Page to share saved" in done.stdout) is bool(files & PAGE)
    assert ("pages saved" in done.stdout) is bool(files & SHEET)


def test_an_older_page_stays_unless_told(tmp_path: Path) -> None:
    old = tmp_path / "street-share.html"
    old.write_text("mine")
    done = run(tmp_path)
    assert done.returncode == 1
    assert "street-share.html is already in" in done.stderr
    assert (old.read_text(), len(list(tmp_path.iterdir()))) == ("mine", 1)
    assert run(tmp_path, "--overwrite", "true").returncode == 0
    assert old.read_text().startswith("<!DOCTYPE html>")


def test_report_agrees_with_validating(tmp_path: Path) -> None:
    run(tmp_path, "--pages", "share", "--report", str(tmp_path / "made.json"))
    check = [sys.executable, str(script("validate_card")), str(STREET), "--output"]
    check += [str(tmp_path / "v.svg"), "--report", str(tmp_path / "v.json")]
    subprocess.run(check, check=True, capture_output=True, timeout=60)
    made, judged = (json.loads((tmp_path / f"{n}.json").read_text()) for n in ("made", "v"))
    for key in ("verdict", "findings", "lights", "cells", "tape"):
        assert made[key] == judged[key]
    assert made["share"]["file"] == "street-share.html"
    assert made["share"]["bytes"] == (tmp_path / "street-share.html").stat().st_size
    assert made["share"]["lights"] == [one["id"] for one in judged["lights"] if one["lit"]]


@pytest.mark.parametrize(("lights", "circuit"), [(50, "full"), (150, "plain"), (500, "none")])
def test_large_cards_stay_small_files(lights: int, circuit: str) -> None:
    made = shared(tiled_card(lights))
    (data,) = made.files.values()
    assert len(data) < 1_000_000
    assert made.report["share"]["circuit"] == circuit
    text = data.decode()
    assert (text.count('id="circuit"') == 1) is (circuit != "none")
    assert ("too large for a picture" in text) is (circuit == "none")
    assert text.count("data-new") == (made.report["share"]["steps"] if circuit != "none" else 0)


def test_a_page_that_stays_too_large_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a limit that no page can keep: the smallest is written, and its size is said."""
    usual = shared(sample("firefly-jar"))
    monkeypatch.setattr("underlit.workflows.sharing.LARGEST", 20_000)
    made = shared(sample("firefly-jar"))
    size = made.report["share"]["bytes"]
    assert 20_000 < size < usual.report["share"]["bytes"] / 2
    assert f"it is large ({size / 1e6:.1f} MB, wanted: under 0.02)" in made.message
    assert "large" not in usual.message
    assert "Page to share saved: one file" in usual.message
