"""The whole way as a maker walks it: every menu entry in order, in one running editor.

Pictures of every dialog, closing box and result are left in `build/editor/walk-NAME/`.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import etree

from kit.run import validate_text
from samples.from_bare import bare

from .editor import ROOT, Editor, missing_for_menu

pytestmark = [
    pytest.mark.editor,
    pytest.mark.skipif(missing_for_menu() is not None, reason=str(missing_for_menu())),
]

SVG = "{http://www.w3.org/2000/svg}"
LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"

#: Entry, and what its closing words must say.
STEPS = (
    ("1 Get the drawing ready", "Panel "),
    ("2 Put lights under windows", "placed"),
    ("3 Put in the battery and press spot", "Battery under"),
    ("4 Lay the tape", "Closest place"),
    ("5 Validate my card", "Circuit ready."),
    ("6 Show the glow", "Glow drawn"),
    ("8 Cutter files", "tape"),
    ("7 Print the making sheet", "pages saved"),
)

#: Those that change the drawing: each is one step for undo.
DRAWING = 6


def with_moon(name: str, at: tuple[float, float], folder: Path) -> Path:
    """A bare card with a printed moon where the finger is to press (page mm)."""
    card = bare(name, folder / f"{name}.svg")
    document = etree.parse(str(card))
    layer = etree.SubElement(document.getroot(), f"{SVG}g", {LABEL: "Printed"})
    etree.SubElement(layer, f"{SVG}circle", id="moon", cx=f"{at[0]}", cy=f"{at[1]}", r="4")
    document.write(str(card))
    return card


@pytest.mark.parametrize(
    ("name", "moon", "windows"),
    [("lantern", (75.0, 124.5), (1,)), ("lighthouse", (47.5, 128.0), (1, 2, 3))],
)
def test_from_a_bare_outline_to_a_printed_sheet(
    editor: Editor,
    tmp_path: Path,
    name: str,
    moon: tuple[float, float],
    windows: tuple[int, ...],
) -> None:
    card = with_moon(name, moon, tmp_path)
    editor.prefer_all({"org.underlit.prepare-card": {"add-base": "true"}})
    chosen = {
        "2 Put lights under windows": [f"underlit-opening-{n}" for n in windows],
        "3 Put in the battery and press spot": ["moon"],
    }
    steps = [{"entry": entry, "select": chosen.get(entry, [])} for entry, _ in STEPS]
    seen = editor.walk_menus(card, steps, ROOT / "build" / "editor" / f"walk-{name}")
    for step, (entry, words) in zip(seen["steps"], STEPS, strict=True):
        assert step["entry"] == entry
        told = " ".join(step["told"])
        assert words in told, told
        assert "Traceback" not in told
    assert seen["undone"] == DRAWING
    report = validate_text(card.read_text(encoding="utf-8"))
    assert report["verdict"] == "ready"
    lit = {light["opening"] for light in report["lights"] if light["lit"]}
    assert len(lit) == len(windows)
    names = {path.name for path in tmp_path.iterdir()}
    assert {f"{name}-tape.svg", f"{name}-build-sheet.pdf", f"{name}-share.html"} <= names
