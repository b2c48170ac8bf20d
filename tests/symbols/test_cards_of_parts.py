"""Whole cards of drawn parts: each way to put in the battery gives a circuit that is ready."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from lxml import etree

from samples.pen import MINUS, PATCH, PLUS, Sheet
from symbols.write_symbols import ROOT
from underlit.markup.part_shapes import (
    PartDrawing,
    bare_cell,
    flap_cell,
    flap_line,
    holder,
    light,
    pull_tab,
    resistor,
    rim_patch,
    switch,
)
from underlit.profiles import load_profile
from underlit_host.parts_markup import append_part

PROFILE = load_profile("hand-laid")

Placed = tuple[str, PartDrawing, tuple[float, float], float]

#: One light over two rails that come down at x = 46 and x = 54 (page mm).
LIGHT: Placed = ("lights", light("warm-white", PROFILE.lights["warm-white"]), (50.0, 30.0), 0.0)
TOP = {"plus": "M 54 20 L 54 {}", "minus": "M 46 20 L 46 {}"}


def card(strips: list[tuple[str, str]], placed: list[Placed], folds: str = "") -> etree._Element:
    """A card without windows: strips and patches in laying order, parts, a fold."""
    s = Sheet("card", "", (100, 150), margin=0.0)
    s.layer("base", [s.path("M 5 5 L 95 5 L 95 145 L 5 145 Z", id="base-sheet")])
    s.layer("tape", [s.path(d, {"plus": PLUS, "minus": MINUS}[w], id=w) for w, d in strips])
    for role in ("power", "lights"):
        s.layer(role, [])
    s.layer("folds", [s.path(folds, PATCH, id="fold", underlit__folds="battery")] if folds else [])
    root = etree.fromstring(s.text().encode())
    layers = {str(g.get("id")): g for g in root.iter("{http://www.w3.org/2000/svg}g")}
    for role, part, at, angle in placed:
        name = "battery" if part.kind == "cell" else part.kind
        target = append_part(root, layers[f"layer-{role}"], part, at, angle, name=name)
        if part.kind == "patch":  # above the minus strip, below the plus strip
            layers["layer-tape"].insert(1, target)
    return root


def judged(root: etree._Element, folder: Path) -> dict[str, object]:
    drawing, report = folder / "card.svg", folder / "report.json"
    drawing.write_bytes(etree.tostring(root))
    command = [sys.executable, str(ROOT / "extension" / "validate_card.py"), str(drawing)]
    more = ["--output", str(folder / "out.svg"), "--report", str(report)]
    subprocess.run([*command, *more], check=True, capture_output=True)
    said = json.loads(report.read_text(encoding="utf-8"))
    found = [f["rule"] for f in said["findings"] if f["severity"] != "note"]
    return {"found": found, "lit": [one["lit"] for one in said["lights"]]}


READY = {"found": [], "lit": [True]}


def shown(part: PartDrawing) -> Placed:
    return ("power", part, (50.0, 100.0), 0.0)


@pytest.mark.parametrize("name", ["cr1632", "cr2016", "cr2025", "cr2032", "cr2450"])
def test_a_bare_battery_with_a_rim_patch(name: str, tmp_path: Path) -> None:
    kind = PROFILE.cells[name]
    off = 0.625 * kind.cap_radius
    strips = [
        ("minus", f"M 46 20 L 46 70 L 25 70 L 25 100 L {50 - off + 2} 100"),
        ("plus", f"M 54 20 L 54 70 L 75 70 L 75 100 L {50 + off - 2} 100"),
    ]
    patch = rim_patch(name, kind, PROFILE.patch.margin)
    placed = [LIGHT, shown(bare_cell(name, kind)), ("tape", patch, (50.0, 100.0), 0.0)]
    assert judged(card(strips, placed), tmp_path) == READY
    bare = judged(card(strips, placed[:2]), tmp_path)
    assert "cell-rim-touch" in bare["found"]


@pytest.mark.parametrize("name", ["cr2016", "cr2032", "cr2450"])
def test_a_flap(name: str, tmp_path: Path) -> None:
    """The fold lies below the battery: the flap's contact at its open place, further down."""
    kind = PROFILE.cells[name]
    far = kind.diameter / 2.0 + 7.0
    (_, y0), _ = flap_line(kind, fold_at=far)
    fold = f"M {50 + y0 - 40} {90 + far} L {50 - y0 + 40} {90 + far}"
    strips = [
        ("minus", "M 46 20 L 46 60 L 50 60 L 50 93"),
        ("plus", f"M 54 20 L 54 45 L 80 45 L 80 {90 + 2 * far} L 47 {90 + 2 * far}"),
    ]
    placed = [
        LIGHT,
        ("power", flap_cell(name, kind, fold_at=far), (50.0, 90.0), 90.0),
        ("tape", rim_patch(name, kind, PROFILE.patch.margin), (50.0, 90.0), 0.0),
    ]
    assert judged(card(strips, placed, fold), tmp_path) == READY
    assert "always-on" in judged(card(strips, placed), tmp_path)["found"]


def test_a_holder_with_a_switch_and_a_resistor(tmp_path: Path) -> None:
    kind = PROFILE.holders["plain-20"]
    battery = holder(kind, PROFILE.cells["cr2032"], closes="always")
    strips = [
        ("minus", "M 46 20 L 46 70 L 35 70 L 35 104"),
        ("plus", "M 54 20 L 54 48.5"),
        ("plus", "M 54 52.5 L 54 67.5"),
        ("plus", "M 54 72.5 L 54 80 L 65 80 L 65 104"),
    ]
    placed = [
        LIGHT,
        shown(battery),
        ("power", resistor(47.0), (54.0, 50.5), 90.0),
        ("power", switch(), (54.0, 70.0), 90.0),
    ]
    assert judged(card(strips, placed), tmp_path) == READY


def test_a_pull_tab(tmp_path: Path) -> None:
    kind = PROFILE.holders["plain-20"]
    battery = holder(kind, PROFILE.cells["cr2032"], closes="tab")
    strips = [("minus", TOP["minus"].format("70 L 35 70 L 35 104")),
              ("plus", TOP["plus"].format("70 L 65 70 L 65 104"))]  # fmt: skip
    placed = [LIGHT, shown(battery), ("power", pull_tab(42.0), (50.0, 100.0), 90.0)]
    assert judged(card(strips, placed), tmp_path) == READY
    assert judged(card(strips, placed[:2]), tmp_path)["found"] == ["always-on"]
