"""Prepare in this process: SVG text and options in, words, report and drawing out."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from kit.run import UNDERLIT

SVG = "{http://www.w3.org/2000/svg}"
LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"
HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
    'xmlns:xlink="http://www.w3.org/1999/xlink" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
    'width="210mm" height="297mm" viewBox="0 0 210 297">'
)

#: A panel of 108 x 140 mm with two windows, and a back sheet 1 mm inside its edge.
PANEL = '<path id="panel" d="M 10,10 H 118 V 150 H 10 Z"/>'
MOON = '<circle id="moon" cx="40" cy="40" r="12"/>'
DOOR = '<rect id="door" x="70" y="90" width="20" height="35"/>'
SHEET = '<path id="sheet" d="M 11,11 H 117 V 149 H 11 Z"/>'
SCORE = '<path id="score" d="M 20,70 H 90"/>'


def layer(*inside: str, label: str = "Layer 1", name: str = "own", more: str = "") -> str:
    """A layer of the editor."""
    head = f'<g id="{name}" inkscape:groupmode="layer" inkscape:label="{label}" {more}>'
    return f"{head}{''.join(inside)}</g>"


class Prepared:
    """Runs of the action, each on what the one before has left."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self._folder, self._monkeypatch = folder, monkeypatch
        self.drawing = b""
        self.code, self.words, self.error = 0, "", ""
        self.report: dict[str, Any] = {}

    def run(self, drawing: str, *options: str) -> Prepared:
        """Run on what stands between `<svg>` and `</svg>` (or a whole drawing)."""
        text = drawing if drawing.startswith("<svg") else f"{HEAD}{drawing}</svg>"
        return self.run_on(text.encode(), *options)

    def again(self, *options: str) -> Prepared:
        """Run on what the last run has left."""
        return self.run_on(self.drawing, *options)

    def run_on(self, data: bytes, *options: str) -> Prepared:
        """Run on the bytes of a drawing."""
        from prepare_card import PrepareCard

        source, target = self._folder / "card.svg", self._folder / "out.svg"
        report = self._folder / "report.json"
        for old in (target, report):
            old.unlink(missing_ok=True)
        source.write_bytes(data)
        out, err = io.TextIOWrapper(io.BytesIO(), "utf-8"), io.StringIO()
        with self._monkeypatch.context() as patch:
            patch.setattr(sys, "stdout", out)
            patch.setattr(sys, "stderr", err)
            arguments = [str(source), *options, "--output", str(target), "--report", str(report)]
            self.code = PrepareCard().run(arguments)
            out.flush()
        self.words, self.error = out.buffer.getvalue().decode(), err.getvalue()
        self.drawing = target.read_bytes() if target.exists() else b""
        self.report = json.loads(report.read_text("utf-8")) if report.exists() else {}
        return self

    def refused(self) -> str:
        """The one message of a run that wrote nothing."""
        assert (self.code, self.words, self.drawing) == (1, "", b"")
        assert self.error.count("\n") == 1
        assert "Something went wrong" not in self.error
        return self.error.strip()

    def root(self) -> etree._Element:
        assert (self.code, self.error) == (0, "")
        return etree.fromstring(self.drawing)

    def roles(self) -> dict[str, str]:
        """id -> role of every shape and clone of the maker's that stands in one."""
        found = {}
        for element in self.root().iter(*(SVG + tag for tag in ("path", "circle", "rect", "use"))):
            name = element.get("id", "")
            around = (element, *element.iterancestors())
            role = next((a.get(f"{UNDERLIT}role") for a in around if a.get(f"{UNDERLIT}role")), "")
            if role and name and not name.startswith("underlit-"):
                found[name] = role
        return found

    def marked(self) -> list[str]:
        """Ids of what is marked as the panel."""
        return [str(e.get("id")) for e in self.root().iterfind(f".//*[@{UNDERLIT}part='panel']")]

    def openings(self) -> list[str]:
        """Names on the Openings layer in their order."""
        found = self.root().iterfind(f".//{SVG}g[@{UNDERLIT}opening]")
        return [str(element.get(f"{UNDERLIT}opening")) for element in found]
