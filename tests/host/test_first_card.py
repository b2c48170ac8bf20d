"""The README's "First card by hand": dragged and drawn with a mouse, validated from the menu."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from symbols.draw_first_card import BATTERY, FILE, MARGIN, MINUS, PLUS, WINDOWS, draw

from .editor import Editor, missing_for_menu
from .test_editor import ENTRY, PICTURES, in_shell, made
from .test_symbols import by_hand, open_panel, read

pytestmark = [
    pytest.mark.editor,
    pytest.mark.skipif(missing_for_menu() is not None, reason=str(missing_for_menu())),
]

LIGHT = "Light, warm white"
HOLDER = "Battery CR2032 in a holder, press"


def page(place: tuple[float, float]) -> list[float]:
    """Card mm to page mm."""
    return [v + MARGIN for v in place]


def walk(pictures: Path) -> list[list[object]]:
    """All that the README says, step by step."""
    return [
        open_panel(),
        ["find page"],
        ["shoot", str(pictures / "first-card-1.png")],
        *(["drag", LIGHT, page(window)] for window in WINDOWS),
        ["layer", -1],
        ["drag", HOLDER, page(BATTERY)],
        ["focus"],
        ["shoot", str(pictures / "first-card-2.png")],
        ["layer", -1],
        ["strip", [page(p) for p in PLUS], "#003f66"],
        ["strip", [page(p) for p in MINUS], "#e69f00"],
        ["focus"],
        ["shoot", str(pictures / "first-card-3.png")],
    ]


def test_the_drawing_is_what_its_script_draws() -> None:
    assert FILE.read_text(encoding="utf-8") == draw()


def test_the_first_card_by_hand_is_ready(editor: Editor, tmp_path: Path) -> None:
    card = Path(shutil.copy(FILE, tmp_path / "first-card.svg"))
    PICTURES.mkdir(parents=True, exist_ok=True)
    editor.prefer("none", {})
    by_hand(editor, card, walk(PICTURES))
    drawn = read(card).card
    assert [len(drawn.lights), len(drawn.cells), len(drawn.strips)] == [3, 1, 2]
    editor.prefer("org.underlit.validate-card", {})
    seen = editor.use_menu(card, ENTRY, PICTURES / "first-card-4.png")
    assert any("Circuit ready." in text for text in seen["told"])
    assert made(card) > 0
    shutil.copy(card, PICTURES / "first-card.svg")
    report = tmp_path / "report.json"
    in_shell(card, tmp_path / "shell.svg", report)
    said = json.loads(report.read_text(encoding="utf-8"))
    assert said["verdict"] == "ready"
    assert [light["lit"] for light in said["lights"]] == [True] * 3
    assert [finding["rule"] for finding in said["findings"]] == ["coin-cell"]
