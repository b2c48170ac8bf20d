"""Laying the tape in the real editor."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from lxml import etree

from samples.from_bare import placed

from .editor import ROOT, Editor, missing_for_menu

pytestmark = pytest.mark.editor

ACTION = "org.underlit.route-tape"
ENTRY = "4 Lay the tape"
PICTURES = ROOT / "build" / "editor"
MADE = "{urn:underlit:card:1}made"

menu = pytest.mark.skipif(missing_for_menu() is not None, reason=str(missing_for_menu()))


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The firefly jar with lights and battery placed by the tool, no tape yet."""
    return placed("firefly-jar", tmp_path_factory.mktemp("placed"))[0]


def strips(path: Path) -> list[str]:
    root = etree.parse(str(path)).getroot()
    found = [e.get("d") or "" for e in root.iter() if (e.get(MADE) or "").startswith("route_tape:")]
    return [d for d in found if d]


def test_a_batch_run_lays_what_a_shell_lays(editor: Editor, card: Path, tmp_path: Path) -> None:
    """The same layout, unless the clock of a busy machine cut one of them off."""
    here, there = tmp_path / "shell.json", tmp_path / "host.json"
    command = [sys.executable, str(ROOT / "extension" / "route_tape.py"), str(card)]
    out = tmp_path / "shell.svg"
    subprocess.run([*command, "--output", str(out), "--report", str(here)], check=True)
    done = editor.run(card, ACTION, {"report": str(there), "replace": "true"})
    told = [json.loads(path.read_text())["routing"] for path in (there, here)]
    assert all(routing["laid"] for routing in told)
    assert [len(strips(path)) for path in (done, out)] == [r["pieces"] for r in told]
    if not any(routing["ended"] for routing in told):
        assert told[0] == told[1]
        assert strips(done) == strips(out)


@menu
def test_through_the_real_menu(editor: Editor, card: Path, tmp_path: Path) -> None:
    own = tmp_path / "card.svg"
    own.write_bytes(card.read_bytes())
    editor.prefer(ACTION, {})
    seen = editor.use_menu(own, ENTRY, PICTURES / "route.png")
    assert any("Plus: " in text for text in seen["told"])
    assert seen["changed"]
    assert strips(own)
