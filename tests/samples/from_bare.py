"""A sample card made anew by the tool: from its die-cut outlines to a circuit that is ready."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

from lxml import etree

ROOT = Path(__file__).resolve().parents[2]
SVG = "{http://www.w3.org/2000/svg}"
LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"
ROLE = "{urn:underlit:card:1}role"

#: Where the finger shall press on each card (page mm).
SPOTS = {
    "lantern": (75.0, 124.5),
    "lighthouse": (64.0, 165.0),
    "firefly-jar": (62.5, 128.0),
    "street": (33.0, 60.0),
    "night-garden": (73.0, 136.5),
}

Step = tuple[Path, dict[str, Any]]


def bare(name: str, target: Path) -> Path:
    """The die-cut outlines of a sample, everything else taken out."""
    document = etree.parse(str(ROOT / "sample_svgs" / f"{name}.svg"))
    for layer in document.getroot().findall(f"{SVG}g"):
        if layer.get(LABEL) != "Die cut" and layer.get(ROLE) != "die-cut":
            layer.getparent().remove(layer)
    document.write(str(target))
    return target


def run(script: str, source: Path, target: Path, *options: str) -> Step:
    """One action from a shell: the new drawing and the report."""
    report = target.with_suffix(".json")
    command = [sys.executable, str(ROOT / "extension" / script), str(source), *options]
    command += ["--output", str(target), "--report", str(report)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
    if done.returncode or done.stderr:
        raise AssertionError(f"{script}: exit {done.returncode}: {done.stderr}")
    return target, json.loads(report.read_text(encoding="utf-8"))


def placed(name: str, folder: Path) -> Step:
    """Got ready, lights under all windows, the battery at its spot (or the nearest that fits)."""
    drawing = bare(name, folder / "bare.svg")
    drawing, _ = run("prepare_card.py", drawing, folder / "1.svg", "--add-base", "true")
    drawing, _ = run("place_lights.py", drawing, folder / "2.svg")
    x, y = SPOTS[name]
    for _ in range(2):
        found, report = run("place_power.py", drawing, folder / "3.svg", "--at", f"{x},{y}")
        if report["placement"].get("fits", True):
            break
        x, y = report["placement"]["nearest"]
    return found, report


def routed(name: str, folder: Path, *options: str) -> Step:
    """The tape laid as well, and the card validated."""
    drawing, _ = placed(name, folder)
    drawing, _ = run("route_tape.py", drawing, folder / "4.svg", *options)
    return run("validate_card.py", drawing, folder / "5.svg")
