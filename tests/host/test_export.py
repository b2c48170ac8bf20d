"""Cutter files in the real editor: written by it, and opened by it at their true size."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import ezdxf
import numpy as np
import pytest

from export.exported import SAMPLES, sample_made

from .editor import ROOT, SYSTEM_PYTHON, Editor, missing_for_menu

pytestmark = pytest.mark.editor

ACTION = "org.underlit.export-tape"
ENTRY = "8 Cutter files"
PICTURES = ROOT / "build" / "editor"
SCRIPT = ROOT / "extension" / "export_tape.py"

#: The host's own importer of DXF: a script that runs without a window.
IMPORTER = Path("/usr/share/inkscape/extensions/dxf_input.py")

PX = 25.4 / 96.0
HAIRLINE = 0.1

menu = pytest.mark.skipif(missing_for_menu() is not None, reason=str(missing_for_menu()))


def shell(source: Path, folder: Path, *options: str) -> None:
    folder.mkdir(exist_ok=True)
    command = [sys.executable, str(SCRIPT), str(source), "--output", str(folder.parent / "o.svg")]
    subprocess.run([*command, "--folder", str(folder), *options], check=True, timeout=60)


def queried(path: Path, editor: Editor) -> dict[str, list[float]]:
    """Id -> x, y, width, height in mm, as the host sees every object."""
    done = subprocess.run(
        ["inkscape", "--query-all", str(path)],
        env=editor.variables(),
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    rows = re.findall(r"^(\S+?),(\S+),(\S+),(\S+),(\S+)$", done.stdout, re.MULTILINE)
    return {name: [float(v) * PX for v in row] for name, *row in rows}


def test_a_batch_run_writes_what_a_shell_writes(editor: Editor, tmp_path: Path) -> None:
    source = ROOT / "sample_svgs" / "night-garden.svg"
    here, there = tmp_path / "shell", tmp_path / "host"
    there.mkdir()
    shell(source, here, "--formats", "svg,dxf", "--arrange", "packed")
    values = {"folder": str(there), "formats": "svg,dxf", "arrange": "packed"}
    editor.run(source, ACTION, values)
    assert {p.name for p in there.iterdir()} == {p.name for p in here.iterdir()}
    for path in here.iterdir():
        assert (there / path.name).read_bytes() == path.read_bytes(), path.name


@pytest.mark.parametrize("name", SAMPLES)
def test_the_host_shows_every_file_at_its_size(editor: Editor, name: str, tmp_path: Path) -> None:
    shell(ROOT / "sample_svgs" / f"{name}.svg", tmp_path / "files", "--formats", "svg")
    for cut in sample_made(name, "in-place").cuts:
        seen = queried(tmp_path / "files" / f"{name}-{cut.name}.svg", editor)
        labels = [outline.label for outline in cut.outlines]
        for outline in (o for o in cut.outlines if labels.count(o.label) == 1):
            points = np.concatenate(outline.rings)
            if len(points) == 2:
                continue  # a fold line: the ends of its stroke depend on its angle
            low, size = points.min(axis=0), np.ptp(points, axis=0)
            x, y, width, height = seen[outline.label]
            assert (x, y) == pytest.approx(tuple(low - HAIRLINE / 2), abs=0.06)
            assert (width, height) == pytest.approx(tuple(size + HAIRLINE), abs=0.12)


@pytest.mark.skipif(not IMPORTER.is_file(), reason="the host's DXF importer is not installed")
@pytest.mark.parametrize("name", ["lantern", "night-garden"])
@pytest.mark.parametrize("format_", ["dxf", "dxf-r12"])
def test_the_host_imports_dxf_at_its_size(
    editor: Editor, name: str, format_: str, tmp_path: Path
) -> None:
    folder = tmp_path / "files"
    shell(ROOT / "sample_svgs" / f"{name}.svg", folder, "--formats", format_)
    for cut in (c for c in sample_made(name, "in-place").cuts if not c.pen):
        command = [SYSTEM_PYTHON, str(IMPORTER), str(folder / f"{name}-{cut.name}.dxf")]
        done = subprocess.run(command, capture_output=True, timeout=60, check=True)
        drawn = tmp_path / "imported.svg"
        drawn.write_bytes(done.stdout)
        seen = queried(drawn, editor)
        paths = [row for row in seen.values() if row[2] > 0 and row[3] > 0]
        whole = max(paths, key=lambda row: row[2] * row[3])
        points = np.concatenate([ring for o in cut.outlines for ring in o.rings])
        assert whole[2:] == pytest.approx(list(np.ptp(points, axis=0)), abs=0.6)
        assert len(paths) >= sum(len(o.rings) for o in cut.outlines)


def saved_copy(source: Path, target: Path, editor: Editor) -> None:
    bare = str(target).removesuffix(".tape.dxf")  # the host adds the ending itself
    command = ["inkscape", "--export-type=tape.dxf", "-o", bare, str(source)]
    subprocess.run(command, env=editor.variables(), capture_output=True, timeout=60, check=False)


def test_save_a_copy_holds_the_tape_each_sheet_on_a_layer(editor: Editor, tmp_path: Path) -> None:
    target = tmp_path / "night-garden.tape.dxf"
    saved_copy(ROOT / "sample_svgs" / "night-garden.svg", target, editor)
    document = ezdxf.readfile(target)
    assert not document.audit().has_errors
    layers = [entity.dxf.layer for entity in document.modelspace()]
    assert set(layers) == {"TAPE-POSITIVE", "TAPE-NEGATIVE", "TAPE-NEGATIVE-2"}
    made = sample_made("night-garden", "in-place")
    assert len(layers) == sum(len(o.rings) for cut in made.tape for o in cut.outlines)


def test_save_a_copy_of_a_card_with_a_stop_writes_nothing(editor: Editor, tmp_path: Path) -> None:
    target = tmp_path / "card.tape.dxf"
    saved_copy(ROOT / "sample_svgs" / "faulty" / "polarities-touch.svg", target, editor)
    assert list(tmp_path.iterdir()) == []


@menu
def test_through_the_real_menu(editor: Editor, tmp_path: Path) -> None:
    card = tmp_path / "lantern.svg"
    card.write_bytes((ROOT / "sample_svgs" / "lantern.svg").read_bytes())
    editor.prefer(ACTION, {})
    seen = editor.use_menu(card, ENTRY, PICTURES / "export.png", save=False)
    assert any("1 sheet of tape" in text for text in seen["told"]), json.dumps(seen["told"])
    assert {"lantern-tape.svg", "lantern-test-cut.svg"} <= {p.name for p in tmp_path.iterdir()}
