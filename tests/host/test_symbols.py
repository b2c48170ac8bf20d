"""Parts from the symbols file in the real editor: turned, unlinked, copied, dragged by a mouse."""

from __future__ import annotations

import json
import subprocess
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from lxml import etree

from symbols.test_symbols_file import HREF, PARTS, SVG, rules_of, with_all
from underlit.interpretation.card import Reading, read_card
from underlit_host.read_drawing import read_drawing

from .editor import PATIENCE, ROOT, SYSTEM_PYTHON, Editor, missing_for_menu

pytestmark = pytest.mark.editor

menu = pytest.mark.skipif(missing_for_menu() is not None, reason=str(missing_for_menu()))

HAND = Path(__file__).parent / "by_hand.py"

#: What a maker may do to parts and they must stay parts.
DEEDS = {
    "turned": "object-rotate-90-cw",
    "turned by hand": "transform-rotate:33",
    "moved": "transform-translate:17,-23",
    "unlinked": "object-unlink-clones",
    "unlinked, turned, moved": "object-unlink-clones;transform-rotate:-58;transform-translate:9,4",
    "turned, unlinked": "transform-rotate:71;clone-unlink",
    "duplicated": "duplicate",
    "unlinked, duplicated, turned": "object-unlink-clones;duplicate;transform-rotate:205",
    "cloned, unlinked": "clone;transform-translate:5,5;clone-unlink-recursively",
    "grouped": "selection-group;transform-rotate:12",
}

#: Deeds that leave every part twice.
TWICE = ("duplicate", "clone;")


def act(editor: Editor, drawing: Path, deeds: str) -> Path:
    """The host opens a drawing, selects every part, does something, saves."""
    out = drawing.with_name("out.svg")
    names = ",".join(PARTS)
    steps = f"select-by-id:{names};{deeds};export-filename:{out};export-do"
    command = ["inkscape", "--batch-process", f"--actions={steps}", str(drawing)]
    subprocess.run(
        command, env=editor.variables(), check=True, capture_output=True, timeout=PATIENCE
    )
    return out


def read(path: Path) -> Reading:
    return read_card(read_drawing(etree.parse(str(path)), path.name), "fold")


def counted(reading: Reading) -> Counter[tuple[str, str]]:
    return Counter((part.kind, part.type) for part in reading.parts.complete)


@pytest.mark.parametrize("deeds", DEEDS.values(), ids=DEEDS)
@pytest.mark.parametrize("page", ["mm", "px"])
def test_every_part_stays_a_part(editor: Editor, page: str, deeds: str, tmp_path: Path) -> None:
    drawing = tmp_path / "all.svg"
    drawing.write_bytes(etree.tostring(with_all(page)))
    before = read(drawing)
    out = act(editor, drawing, deeds)
    after = read(out)
    times = 2 if any(word in deeds for word in TWICE) else 1
    assert counted(after) == Counter({k: times * n for k, n in counted(before).items()})
    assert not after.parts.incomplete
    assert not after.parts.strays
    for part in after.parts.complete:
        assert part.scale == pytest.approx((1.0, 1.0), abs=1e-4)
        assert not part.mirrored
    assert len(after.card.patches) == times * len(before.card.patches)
    areas = [sum(p.geometry.area for p in r.card.patches) for r in (before, after)]
    assert areas[1] == pytest.approx(times * areas[0], rel=1e-4)
    assert not rules_of(out, tmp_path) & {"part-incomplete", "part-resized", "object-skipped"}


def test_unlinked_parts_are_groups_of_their_own(editor: Editor, tmp_path: Path) -> None:
    drawing = tmp_path / "all.svg"
    drawing.write_bytes(etree.tostring(with_all("px")))
    root = etree.parse(str(act(editor, drawing, "object-unlink-clones"))).getroot()
    assert not list(root.iter(SVG + "use"))


def by_hand(editor: Editor, svg: Path, steps: list[list[object]]) -> dict[str, object]:
    """A hand in the real editor (see by_hand.py)."""
    order = json.dumps({"svg": str(svg), "steps": steps})
    command = ["dbus-run-session", "--", SYSTEM_PYTHON, str(HAND), order]
    run = subprocess.run(
        command,
        env=editor.variables(bus=True),
        capture_output=True,
        text=True,
        timeout=3 * PATIENCE,
        check=False,
    )
    lines = [line for line in run.stdout.splitlines() if line.startswith("{")]
    assert lines, f"the hand saw no end: {run.stdout}{run.stderr}"
    return json.loads(lines[-1])


def open_panel() -> list[object]:
    """The step that opens our parts in the panel, with their titles."""
    titles = etree.parse(str(ROOT / "extension" / "symbols" / "underlit-parts.svg")).xpath(
        "//*[local-name()='symbol']/*[local-name()='title']/text()"
    )
    return ["panel", "Underlit parts", [str(title) for title in titles]]


PAGES = {
    "mm": 'width="105mm" height="148mm" viewBox="0 0 105 148"',
    "px": 'width="396.85" height="559.37"',
    "90 per inch": 'width="105mm" height="148mm" viewBox="0 0 372.05 524.41"',
}


@menu
@pytest.mark.parametrize("page", PAGES)
def test_dragged_from_the_panel_a_part_is_life_size(
    editor: Editor, page: str, tmp_path: Path
) -> None:
    card = tmp_path / "card.svg"
    card.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:sodipodi="http://sodipodi.sourceforge.net/'
        f'DTD/sodipodi-0.dtd" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
        f'{PAGES[page]}><sodipodi:namedview id="v" inkscape:current-layer="p"/><g id="p" '
        f'inkscape:groupmode="layer" inkscape:label="Power" transform="scale(1.7)"/></svg>'
    )
    editor.prefer("none", {})
    steps: list[list[object]] = [open_panel()]
    for i, title in enumerate(("Light, red", "Battery CR2032 in a holder, press")):
        steps.append(["drop", title, [500 + 150 * i, 300 + 200 * i]])
    by_hand(editor, card, steps)
    reading = read(card)
    light, cell = reading.parts.complete
    assert (light.type, cell.type) == ("red", "cr2032")
    root = etree.parse(str(card)).getroot()
    # Later hosts (1.4) put the name of the file before the symbol's.
    symbols = [use.get(HREF).rpartition(":")[2].lstrip("#") for use in root.iter(SVG + "use")]
    assert symbols == ["underlit-light-red", "underlit-holder-press"]
    for part, size in ((light, (5.0, 12.0)), (cell, (21.0, 28.0))):
        sides = np.ptp(np.array(part.body.exterior.coords), axis=0)
        assert sorted(sides) == pytest.approx(size, abs=0.01)
        assert part.scale == pytest.approx((1.0, 1.0), abs=1e-3)
