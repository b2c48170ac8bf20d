"""The one seam between the tests and the tool: SVG text in, report out."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from lxml import etree

ROOT = Path(__file__).resolve().parents[2]
UNDERLIT = "{urn:underlit:card:1}"


def validate_text(svg_text: str, profile: str | None = None) -> dict[str, Any]:
    """The report (conventions 7) of validating a drawing, in this process."""
    from underlit.profiles import load_profile
    from underlit.workflows.validate import validate
    from underlit_host.first_look import check_bytes
    from underlit_host.read_drawing import read_drawing

    data = svg_text.encode("utf-8")
    check_bytes(data)
    root = etree.fromstring(data, etree.XMLParser(resolve_entities=False, huge_tree=True))
    name = profile or root.get(f"{UNDERLIT}profile") or "hand-laid"
    settings = json.loads(root.get(f"{UNDERLIT}settings") or "{}")
    drawing = read_drawing(root, "card.svg")
    report: dict[str, Any] = validate(drawing, load_profile(name, settings, None)).report
    return report


def validate_shell(svg_text: str, *options: str) -> tuple[dict[str, Any], str]:
    """Report and marked-up drawing of a run of the script itself."""
    with tempfile.TemporaryDirectory() as folder:
        source, target, report = (Path(folder) / n for n in ("in.svg", "out.svg", "report.json"))
        source.write_text(svg_text, encoding="utf-8")
        script = ROOT / "extension" / "validate_card.py"
        command = [sys.executable, str(script), *options, str(source)]
        command += ["--output", str(target), "--report", str(report)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
        if done.returncode or done.stderr:
            raise AssertionError(f"exit {done.returncode}: {done.stderr}")
        return json.loads(report.read_text("utf-8")), target.read_text("utf-8")
