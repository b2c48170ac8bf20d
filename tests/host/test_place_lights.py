"""Put lights under windows, in the real editor."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from lxml import etree

from .editor import ROOT, Editor

pytestmark = pytest.mark.editor

PREPARE = "org.underlit.prepare-card"
ACTION = "org.underlit.place-lights"

U = "{urn:underlit:card:1}"
LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def prepared(editor: Editor, tmp_path: Path) -> Path:
    """The die-cut outlines of a sample, made ready by step 1."""
    document = etree.parse(str(ROOT / "sample_svgs" / "night-garden.svg"))
    for layer in document.getroot().findall(f"{SVG}g"):
        if layer.get(LABEL) != "Die cut":
            layer.getparent().remove(layer)
    path = tmp_path / "bare.svg"
    document.write(str(path))
    return Path(shutil.copy(editor.run(path, PREPARE, {}), tmp_path / "prepared.svg"))


def lights(path: Path) -> list[str]:
    root = etree.parse(str(path)).getroot()
    made = [el for el in root.iter() if str(el.get(f"{U}made")).startswith("place_lights:")]
    return [str(el.get("id")) for el in made]


def test_a_batch_run_reports_as_a_shell_does(
    editor: Editor, prepared: Path, tmp_path: Path
) -> None:
    here, there, out = tmp_path / "shell.json", tmp_path / "host.json", tmp_path / "shell.svg"
    command = [sys.executable, str(ROOT / "extension" / "place_lights.py"), str(prepared)]
    subprocess.run([*command, "--output", str(out), "--report", str(here)], check=True)
    done = editor.run(prepared, ACTION, {"report": str(there)})
    ours, hosts = json.loads(here.read_text()), json.loads(there.read_text())
    assert hosts["placement"] == ours["placement"]
    assert hosts["lights"] == ours["lights"]
    assert lights(done) == lights(out)
    assert len(lights(done)) == len(ours["placement"]["lights"]) > 5


def test_the_clicked_windows_get_lights(editor: Editor, prepared: Path, tmp_path: Path) -> None:
    root = etree.parse(str(prepared)).getroot()
    tints = {str(g.get(f"{U}opening")): str(g.get("id")) for g in root.iter(f"{SVG}g")}
    report = tmp_path / "report.json"
    editor.run(
        prepared,
        ACTION,
        {"report": str(report), "turn": "45"},
        select=(tints["moon"], tints["daisy"]),
    )
    told = json.loads(report.read_text())["placement"]["lights"]
    assert [light["opening"] for light in told] == ["moon", "daisy"]
    assert all(light["angle"] % 45.0 == 0.0 for light in told)
