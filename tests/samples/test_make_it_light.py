"""Make it light: an empty page and bare outlines become a glowing card that is ready."""

from __future__ import annotations

from pathlib import Path

import pdfplumber
import pytest
from lxml import etree

from samples.draw_first_lantern import draw
from samples.from_bare import ROOT, bare, run
from samples.write_first_lantern import FOLDER as FIRST

SCRIPT = "make_it_light.py"
ROLE = "{urn:underlit:card:1}role"
EMPTY = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="8.5in" height="11in" viewBox="0 0 816 1056">'
    '<g id="layer1"/></svg>'
)
DONE = ["prepare", "place-lights", "place-power", "route", "validate", "preview"]


def card(text: str, folder: Path) -> Path:
    path = folder / "card.svg"
    body = f'<g id="d" xmlns:u="urn:underlit:card:1" u:role="die-cut">{text}</g>'
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="150mm" height="150mm" '
        f'viewBox="0 0 150 150">{body}</svg>'
    )
    return path


def steps(report: dict) -> list[tuple[str, bool]]:
    return [(step["step"], step["done"]) for step in report["steps"]]


def pictures(path: Path) -> int:
    root = etree.parse(str(path)).getroot()
    return sum(el.tag.endswith("}image") for el in root.iter())


def test_the_lantern_is_drawn_by_its_script() -> None:
    own = ROOT / "extension" / "cards" / "first-lantern.svg"
    assert own.read_bytes() == draw().encode()


def test_an_empty_page_gets_a_lantern_that_glows(tmp_path: Path) -> None:
    empty = tmp_path / "empty.svg"
    empty.write_text(EMPTY)
    made, report = run(SCRIPT, empty, tmp_path / "made.svg")
    assert steps(report) == [(name, True) for name in DONE]
    assert report["verdict"] == "ready"
    assert [light["lit"] for light in report["lights"]] == [True]
    assert report["card"]["panel"] == [105.0, 148.0]
    x, _ = report["glow"]["picture"]["box"][:2]
    assert x == pytest.approx((215.9 - 105.0) / 2, abs=0.01)
    assert pictures(made) == 1


@pytest.mark.parametrize("name", ["lantern", "lighthouse", "firefly-jar", "street", "night-garden"])
def test_bare_outlines_become_ready(name: str, tmp_path: Path) -> None:
    made, report = run(SCRIPT, bare(name, tmp_path / "bare.svg"), tmp_path / "made.svg")
    assert steps(report) == [(step, True) for step in DONE]
    assert report["verdict"] == "ready"
    assert all(light["lit"] for light in report["lights"])
    again, second = run(SCRIPT, made, tmp_path / "again.svg")
    assert again.read_bytes() == made.read_bytes()
    assert steps(second) == [(step, True) for step in DONE]


def test_what_the_maker_placed_stays(tmp_path: Path) -> None:
    drawing, _ = run("prepare_card.py", bare("street", tmp_path / "b.svg"), tmp_path / "1.svg")
    drawing, _ = run("place_lights.py", drawing, tmp_path / "2.svg", "--openings", "3,4")
    made, report = run(SCRIPT, drawing, tmp_path / "made.svg")
    assert len(report["lights"]) == 2
    assert report["verdict"] == "ready"
    before = {el.get("id"): etree.tostring(el) for el in lights(drawing)}
    assert set(before) == {el.get("id") for el in lights(made)}


def lights(path: Path) -> list[etree._Element]:
    root = etree.parse(str(path)).getroot()
    return [el for el in root.iter() if el.get("{urn:underlit:card:1}part") == "light"]


def test_a_cutting_sheet_asks_for_the_panel(tmp_path: Path) -> None:
    two = (
        '<path id="a" d="M5 5H70V140H5Z M30 30H40V40H30Z"/>'
        '<path id="b" d="M80 5H145V140H80Z M100 30H110V40H100Z"/>'
    )
    sheet = card(two, tmp_path)
    _, report = run(SCRIPT, sheet, tmp_path / "made.svg")
    assert steps(report) == [("prepare", False)]
    _, chosen = run(SCRIPT, sheet, tmp_path / "made2.svg", "--id", "b")
    assert steps(chosen)[0] == ("prepare", True)
    assert len(chosen["lights"]) == 1


def test_a_page_without_an_outline_stays_as_it_is(tmp_path: Path) -> None:
    words = card('<text x="10" y="20">A lantern</text>', tmp_path)
    made, report = run(SCRIPT, words, tmp_path / "made.svg")
    assert steps(report) == [("prepare", False)]
    assert [el.tag for el in etree.parse(str(made)).iter()] == [
        el.tag for el in etree.parse(str(words)).iter()
    ]


def test_a_card_too_small_for_a_battery_keeps_its_lights(tmp_path: Path) -> None:
    small = card('<path id="a" d="M5 5H45V40H5Z M15 12H30V27H15Z"/>', tmp_path)
    made, report = run(SCRIPT, small, tmp_path / "made.svg")
    assert steps(report) == [
        ("prepare", True),
        ("place-lights", True),
        ("place-power", False),
        ("preview", True),
    ]
    assert len(lights(made)) == 1
    assert pictures(made) == 1


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_the_sheets_that_need_no_install(paper: str, size: tuple[float, float]) -> None:
    """Printed as they lie in the repository: paper, a 50 mm rule, ready, every page."""
    with pdfplumber.open(FIRST / f"first-lantern-{paper}.pdf") as pdf:
        texts = [page.extract_text() for page in pdf.pages]
        for page in pdf.pages:
            assert (page.width / 72 * 25.4, page.height / 72 * 25.4) == pytest.approx(size, abs=0.1)
    assert any("50 mm" in text for text in texts)
    assert not any("NOT READY" in text.upper() for text in texts)
    assert any("Lay plus P1" in text for text in texts)


def test_the_card_of_those_sheets_is_ready(tmp_path: Path) -> None:
    card = FIRST / "first-lantern.svg"
    _, report = run("validate_card.py", card, tmp_path / "checked.svg")
    assert report["verdict"] == "ready"
    with pdfplumber.open(FIRST / "first-lantern-a4.pdf") as pdf:
        words = " ".join(page.extract_text() for page in pdf.pages)
    tape = report["tape"]
    length = f"{tape['length']:.1f}"
    assert f"{tape['strips']} strips of tape, {length} mm together" in words
