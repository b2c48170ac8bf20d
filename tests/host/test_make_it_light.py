"""Make it light in the real editor: from the menu to a glowing picture without a dialog."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from lxml import etree

from samples.from_bare import bare

from .editor import ROOT, Editor, missing_for_menu

pytestmark = pytest.mark.editor

ACTION = "org.underlit.make-it-light"
ENTRY = "0 Make it light"
PICTURES = ROOT / "build" / "editor"
EMPTY = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" '
    'viewBox="0 0 210 297"><g id="layer1"/></svg>'
)

menu = pytest.mark.skipif(missing_for_menu() is not None, reason=str(missing_for_menu()))


def test_a_batch_run_makes_bare_outlines_ready(editor: Editor, tmp_path: Path) -> None:
    there = tmp_path / "host.json"
    editor.run(bare("lighthouse", tmp_path / "card.svg"), ACTION, {"report": str(there)})
    report = json.loads(there.read_text())
    assert report["verdict"] == "ready"
    assert all(step["done"] for step in report["steps"])


@menu
def test_two_clicks_from_an_empty_page_to_a_glow(editor: Editor, tmp_path: Path) -> None:
    """The menu and the entry: no dialog opens, one box tells, one undo takes all of it back."""
    own = tmp_path / "card.svg"
    own.write_text(EMPTY)
    editor.prefer(ACTION, {})
    seen = editor.use_menu(own, ENTRY, PICTURES / "make-it-light.png", dialog=False)
    assert seen["entries"][0] == ENTRY
    assert any("Your card glows: 1 window lit." in text for text in seen["told"])
    assert seen["changed"]
    root = etree.parse(str(own)).getroot()
    assert sum(el.tag == "{http://www.w3.org/2000/svg}image" for el in root.iter()) == 1
