"""Pack to share: what lies in the folder, and that another computer is told the same."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pdfplumber
import pytest
from lxml import etree

ROOT = Path(__file__).parents[2]
SAMPLES = ROOT / "sample_svgs"
SODIPODI = "{http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd}"

OWN = """
based-on = "hand-laid"
[limits]
smallest-gap = 9.0
[tape]
use = "foil-5-plain"
"""


def script(name: str, source: Path, *options: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, str(ROOT / "extension" / name), str(source), *map(str, options)]
    return subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)


def pack(source: Path, *options: object) -> Path:
    """Pack a drawing; returns the folder."""
    done = script("pack_to_share.py", source, "--output", source.with_name("out.svg"), *options)
    assert (done.returncode, done.stderr) == (0, "")
    return source.with_name(f"{source.stem}-to-share")


def told(source: Path) -> dict[str, Any]:
    """The report of validating a drawing where it lies."""
    report = source.with_suffix(".json")
    done = script("validate_card.py", source, "--output", os.devnull, "--report", report)
    assert (done.returncode, done.stderr) == (0, "")
    found: dict[str, Any] = json.loads(report.read_text(encoding="utf-8"))
    return found


def copied(name: str, folder: Path) -> Path:
    path = folder / Path(name).name
    path.write_bytes((SAMPLES / name).read_bytes())
    return path


@pytest.fixture(scope="module")
def lantern(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return pack(copied("lantern.svg", tmp_path_factory.mktemp("pack")))


def test_one_folder_with_everything(lantern: Path) -> None:
    names = {path.name for path in lantern.iterdir()}
    wanted = {"lantern.svg", "lantern-build-sheet-a4.pdf", "lantern-build-sheet-letter.pdf",
              "lantern-tape.svg", "lantern-tape.dxf", "lantern-glow.png", "lantern-share.html",
              "lantern-settings.toml", "lantern-supplies.csv", "read-me.txt"}  # fmt: skip
    assert wanted <= names
    text = (lantern / "read-me.txt").read_text(encoding="utf-8")
    assert "emergency department" in text
    for name in wanted - {"read-me.txt", "lantern-tape.svg", "lantern-tape.dxf"}:
        assert name in text


@pytest.mark.parametrize(("paper", "size"), [("a4", (595.3, 841.9)), ("letter", (612.0, 792.0))])
def test_both_papers(lantern: Path, paper: str, size: tuple[float, float]) -> None:
    with pdfplumber.open(lantern / f"lantern-build-sheet-{paper}.pdf") as document:
        page = document.pages[0]
        assert (page.width, page.height) == pytest.approx(size, abs=0.1)


@pytest.mark.parametrize("name", ["lantern.svg", "street.svg", "faulty/gap-too-small.svg"])
def test_another_computer_finds_the_same(tmp_path: Path, name: str) -> None:
    """A maker's own profile file, and settings of the card, are not there any more."""
    home, away = tmp_path / "home", tmp_path / "away"
    home.mkdir()
    away.mkdir()
    (home / "mine.toml").write_text(OWN, encoding="utf-8")
    card = copied(name, home)
    root = etree.parse(str(card)).getroot()
    root.set("{urn:underlit:card:1}profile", "mine.toml")
    root.set("{urn:underlit:card:1}settings", '{"limits": {"edge-margin": 8}}')
    card.write_bytes(etree.tostring(root))
    here = told(card)
    packed = pack(card) / card.name
    there = told(copied_away(packed, away))
    for report in (here, there):
        del report["profile"]
    assert there == here
    rules = {finding["rule"] for finding in here["findings"]}
    assert "joint-not-conducting" in rules or "gap-too-small" in rules  # of the own profile


def copied_away(path: Path, folder: Path) -> Path:
    target = folder / path.name
    target.write_bytes(path.read_bytes())
    return target


def test_settings_file_judges_like_the_card(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text(OWN, encoding="utf-8")
    card = copied("street.svg", tmp_path)
    folder = pack(card, "--profile", tmp_path / "mine.toml")
    report = tmp_path / "report.json"
    options = ("--profile", folder / "street-settings.toml", "--report", report)
    script("validate_card.py", SAMPLES / "street.svg", "--output", os.devnull, *options)
    packed = told(folder / "street.svg")["findings"]
    assert json.loads(report.read_text(encoding="utf-8"))["findings"] == packed


def test_says_nothing_of_its_makers_computer(tmp_path: Path) -> None:
    card = copied("lantern.svg", tmp_path)
    root = etree.parse(str(card)).getroot()
    root.set(SODIPODI + "docname", "private place/card.svg")
    root[0].set(
        "{http://www.inkscape.org/namespaces/inkscape}export-filename", "private place/a.png"
    )
    card.write_bytes(etree.tostring(root))
    for path in pack(card).iterdir():
        assert b"private place" not in path.read_bytes()
        assert str(tmp_path).encode() not in path.read_bytes()


def test_a_faulty_card_goes_without_cutter_files(tmp_path: Path) -> None:
    folder = pack(copied("faulty/polarities-touch.svg", tmp_path))
    names = {path.name for path in folder.iterdir()}
    assert not any(name.endswith(".dxf") for name in names)
    text = (folder / "read-me.txt").read_text(encoding="utf-8")
    assert "NOT READY" in text
    assert "No cutter files" in text


def test_nothing_is_replaced_unasked_and_nothing_half_made(tmp_path: Path) -> None:
    card = copied("lantern.svg", tmp_path)
    folder = pack(card)
    (folder / "mine.txt").write_text("mine", encoding="utf-8")
    (folder / "lantern-glow.png").write_bytes(b"old")
    out = ("--output", tmp_path / "out2.svg")
    done = script("pack_to_share.py", card, *out)
    assert done.returncode == 1
    assert "files are already in" in done.stderr
    assert not (tmp_path / "out2.svg").exists()
    assert (folder / "lantern-glow.png").read_bytes() == b"old"
    pack(card, "--overwrite", "true")
    assert (folder / "lantern-glow.png").read_bytes() != b"old"
    assert (folder / "mine.txt").read_text(encoding="utf-8") == "mine"


def test_a_failed_run_leaves_no_folder(tmp_path: Path) -> None:
    card = copied("lantern.svg", tmp_path)
    done = script("pack_to_share.py", card, "--output", tmp_path / "no" / "out.svg")
    assert done.returncode == 1
    assert not (tmp_path / "lantern-to-share").exists()
    done = script("pack_to_share.py", card, "--output", os.devnull, "--folder", tmp_path / "no")
    assert done.returncode == 1
    assert "There is no folder" in done.stderr


def test_an_empty_drawing_is_packed_in_words(tmp_path: Path) -> None:
    card = tmp_path / "empty.svg"
    card.write_text('<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm"/>')
    folder = pack(card)
    assert {path.name for path in folder.iterdir()} == {
        "empty.svg", "empty-settings.toml", "read-me.txt"}  # fmt: skip
    assert "NOT READY" in (folder / "read-me.txt").read_text(encoding="utf-8")
