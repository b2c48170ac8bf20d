"""The dialogs in another language, in the real editor."""

from __future__ import annotations

import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

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
