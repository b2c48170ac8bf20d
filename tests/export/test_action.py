"""The script itself: files, refusals, and nothing half written."""

from __future__ import annotations

import errno
import json
import subprocess
import sys
from pathlib import Path

import pytest
from lxml import etree

import underlit_host.files as files_module
from underlit.errors import UnwritableTarget

from .exported import ROOT

SCRIPT = ROOT / "extension" / "export_tape.py"
FAULTY = ROOT / "sample_svgs" / "faulty"


def run(source: Path, folder: Path | None, *options: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, str(SCRIPT), str(source), "--output", str(source.parent / "out.svg")]
    command += ["--report", str(source.parent / "report.json"), *options]
    if folder is not None:
        command += ["--folder", str(folder)]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)


def refused(done: subprocess.CompletedProcess[str], *words: str) -> None:
    assert done.returncode == 1
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert "Traceback" not in done.stderr
    for word in words:
        assert word in done.stderr


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def test_writes_what_it_says(card: Path, folder: Path) -> None:
    done = run(card, folder, "--formats", "svg,dxf,dxf-r12")
    assert (done.returncode, done.stderr) == (0, "")
    report = json.loads((card.parent / "report.json").read_text())
    assert report["action"] == "export"
    assert report["verdict"] == "ready"
    assert list(report)[-1] == "export"
    assert names(folder) == set(report["export"]["files"])
    wanted = {"tape", "base", "foam", "patches", "cover", "diffuser", "panel", "guides", "test-cut"}
    assert {n[len("lantern-") : -4] for n in names(folder) if n.endswith(".svg")} == wanted
    assert {n[len("lantern-") : -8] for n in names(folder) if n.endswith("-r12.dxf")} == wanted
    assert "1 sheet of tape" in done.stdout
    before, after = (etree.parse(str(p)).getroot() for p in (card, card.parent / "out.svg"))
    assert etree.tostring(before, method="c14n") == etree.tostring(after, method="c14n")


def test_r12_alone_has_the_plain_name(card: Path, folder: Path) -> None:
    assert run(card, folder, "--formats", "dxf-r12").returncode == 0
    assert "lantern-tape.dxf" in names(folder)
    assert b"AC1009" in (folder / "lantern-tape.dxf").read_bytes()


def test_without_a_folder_beside_the_drawing(card: Path) -> None:
    assert run(card, None, "--formats", "svg").returncode == 0
    assert "lantern-tape.svg" in names(card.parent)


@pytest.mark.parametrize(
    "name", sorted(p.stem for p in FAULTY.glob("*.svg") if "stop" in p.stem or p.stem in (
        "polarities-touch", "light-reversed", "light-unfed", "joint-too-small", "off-base"))
)  # fmt: skip
def test_a_stop_is_refused_by_its_name_and_done_when_told_so(
    name: str, tmp_path: Path, folder: Path
) -> None:
    source = tmp_path / "card.svg"
    source.write_bytes((FAULTY / f"{name}.svg").read_bytes())
    code = name.removesuffix("-stop")
    refused(run(source, folder), code, "not ready")
    assert names(folder) == set()
    assert names(tmp_path) == {"card.svg", "files"}
    done = run(source, folder, "--anyway", "true")
    assert (done.returncode, done.stderr) == (0, "")
    assert code in done.stdout
    report = json.loads((tmp_path / "report.json").read_text())
    assert report["verdict"] == "not-ready"
    assert "card-test-cut.svg" in names(folder)


def test_cautions_do_not_stop_it(tmp_path: Path, folder: Path) -> None:
    source = tmp_path / "card.svg"
    source.write_bytes((FAULTY / "edge-too-near.svg").read_bytes())
    assert run(source, folder).returncode == 0


def test_no_tape_is_refused_whatever_is_said(card: Path, folder: Path) -> None:
    root = etree.parse(str(card)).getroot()
    (layer,) = (g for g in root if g.get("id") == "layer-tape")
    root.remove(layer)
    card.write_bytes(etree.tostring(root))
    for options in ((), ("--anyway", "true")):
        refused(run(card, folder, *options), "no tape")
        assert names(folder) == set()


def test_files_that_are_there_stay_unless_told(card: Path, folder: Path) -> None:
    there = folder / "lantern-panel.svg"
    there.write_text("mine")
    refused(run(card, folder, "--formats", "svg"), "lantern-panel.svg", "--overwrite")
    assert names(folder) == {"lantern-panel.svg"}
    assert there.read_text() == "mine"
    assert run(card, folder, "--formats", "svg", "--overwrite", "true").returncode == 0
    assert "<svg" in there.read_text()


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--formats", "svg,gcode"), ("--formats", "gcode")),
        (("--formats", ""), ("--formats",)),
        (("--arrange", "heap"), ("--arrange", "in-place")),
        (("--pieces", "crumbs"), ("--pieces", "strips")),
        (("--copies", "0"), ("--copies", "1 to 500")),
        (("--copies", "two"), ("--copies",)),
        (("--overwrite", "perhaps"), ("--overwrite", "true or false")),
    ],
)
def test_odd_options_are_refused(card: Path, folder: Path, options, words) -> None:
    refused(run(card, folder, *options), *words)
    assert names(folder) == set()


def test_a_folder_that_is_none_or_locked(card: Path, folder: Path, tmp_path: Path) -> None:
    refused(run(card, tmp_path / "nowhere"), "There is no folder")
    refused(run(card, card), "There is no folder")
    folder.chmod(0o555)
    try:
        refused(run(card, folder), "cannot be written")
    finally:
        folder.chmod(0o755)
    assert names(folder) == set()
    assert not (tmp_path / "out.svg").exists()


def test_a_full_disk_leaves_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The fifth file does not fit: the four before it are not there either."""
    whole, count = files_module._write, []

    def full(path: str, place: str, data: bytes, flags: int) -> None:
        count.append(path)
        if len(count) == 5:
            raise files_module._unwritable(path, OSError(errno.ENOSPC, "full"))
        whole(path, place, data, flags)

    monkeypatch.setattr(files_module, "_write", full)
    old = folder / "b-2.svg"
    old.write_text("older")
    contents = {str(folder / f"b-{n}.svg"): b"new" for n in range(8)}
    with pytest.raises(UnwritableTarget, match="the disk is full"):
        files_module.write_all(contents)
    assert names(folder) == {"b-2.svg"}
    assert old.read_text() == "older"


def test_exported_and_named_files_must_differ(card: Path, folder: Path) -> None:
    report = folder / "lantern-tape.svg"
    done = run(card, folder, "--formats", "svg", "--report", str(report))
    refused(done, "named twice")
    assert names(folder) == set()


def test_an_unsaved_drawing_needs_a_folder(card: Path) -> None:
    command = [sys.executable, str(SCRIPT), str(card)]
    done = subprocess.run(command, capture_output=True, timeout=60, check=False)
    assert done.returncode == 1
    assert b"save the drawing first" in done.stderr
    assert done.stdout == b""
