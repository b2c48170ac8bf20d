"""The dialogs in another language, in the real editor."""

from __future__ import annotations

import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest
from lxml import etree

from kit.german import english_in
from locale_tools import write_catalogs as tools
from underlit_host.names import ROLE, SVG

from .editor import GERMAN, ROOT, Editor, missing_for_menu

pytestmark = pytest.mark.editor

PICTURES = ROOT / "build" / "editor"


def missing() -> str | None:
    """What this machine lacks for it."""
    known = subprocess.run(["locale", "-a"], capture_output=True, text=True, check=False).stdout
    if GERMAN.lower().replace("-", "") not in known.lower().replace("-", ""):
        return f"there is no locale {GERMAN}"
    return missing_for_menu()


@pytest.mark.skipif(missing() is not None, reason=str(missing()))
def test_menu_and_dialog_speak_german(editor: Editor, tmp_path: Path) -> None:
    own = tmp_path / "lantern.svg"
    shutil.copy(ROOT / "sample_svgs" / "lantern.svg", own)
    german = replace(editor, language="de")
    german.prefer("org.underlit.validate-card", {})
    seen = german.use_menu(own, "5 Meine Karte prüfen", PICTURES / "german.png")
    assert any(entry.startswith("4 Band legen") for entry in seen["entries"])
    words = {name for _, name in seen["dialog"]}
    assert {"Einstellungen", "Hilfe", "So arbeite ich:", "Am Ende das Ergebnis sagen"} <= words
    assert not {"Options", "Help", "How you work:"} & words


@pytest.mark.skipif(missing() is not None, reason=str(missing()))
def test_findings_on_the_drawing_speak_german(fresh_editor: Editor, tmp_path: Path) -> None:
    compiled = fresh_editor.extension / tools.compiled("de").relative_to(tools.EXTENSION)
    compiled.write_bytes(tools.as_mo(tools.whole("de")))
    faulty = ROOT / "sample_svgs" / "faulty" / "gap-too-small-stop.svg"
    german = replace(fresh_editor, language="de")
    drawn = german.run(faulty, "org.underlit.validate-card", out=tmp_path / "german.svg")
    words = findings_of(drawn)
    assert "Plus und Minus haben hier nur 0,7 mm Abstand; eine Hand braucht 2." in words
    assert "Noch nicht fertig" in words
    assert english_in(words) == []


def findings_of(drawing: Path) -> str:
    """All that is written on the Findings layer, as one line."""
    every = etree.parse(str(drawing)).iter(SVG + "g")
    layers = [group for group in every if group.get(ROLE) == "findings"]
    texts = [text for layer in layers for text in layer.iter(SVG + "text")]
    return " ".join(" ".join(" ".join(text.itertext()).split()) for text in texts)
