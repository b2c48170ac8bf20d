"""Numbers of windows stay legible while the card is made: lights, battery and tape move them."""

from __future__ import annotations

import subprocess
import sys

import pytest
import shapely
from lxml import etree

from kit.run import ROOT, UNDERLIT
from underlit.interpretation.card import read_card
from underlit_host.read_drawing import read_drawing

SVG = "{http://www.w3.org/2000/svg}"

#: Windows in which tape comes to lie, and a slit whose number stands beside it.
CARD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" '
    'width="110mm" height="120mm" viewBox="0 0 110 120">'
    '<g id="cut" underlit:role="die-cut"><path id="panel" d="M 2,2 H 108 V 118 H 2 Z"/>'
    '<rect id="one" x="14" y="14" width="20" height="16"/>'
    '<rect id="two" x="45" y="14" width="20" height="16"/>'
    '<rect id="three" x="76" y="14" width="20" height="16"/>'
    '<rect id="slit" x="36" y="40" width="2" height="9"/></g>'
    '<g underlit:role="openings"><text id="mine" x="5" y="50">1</text></g></svg>'
)

STEPS = (
    ("prepare_card", "--add-base", "true"),
    ("place_lights", "--openings", "1-3"),
    ("place_power", "--at", "55,90", "--pull-tab", "false"),
    ("route_tape", "--effort", "1"),
    ("route_tape", "--effort", "1"),
    ("prepare_card",),
)


@pytest.fixture(scope="module")
def drawings(tmp_path_factory: pytest.TempPathFactory) -> list[etree._Element]:
    """The drawing after every step."""
    folder = tmp_path_factory.mktemp("numbers")
    source, found = folder / "card.svg", []
    source.write_text(CARD, encoding="utf-8")
    for k, (script, *options) in enumerate(STEPS):
        target = folder / f"{k}.svg"
        command = [sys.executable, str(ROOT / "extension" / f"{script}.py"), str(source)]
        done = subprocess.run([*command, *options, "--output", str(target)], capture_output=True,
                              text=True, timeout=120, check=False)  # fmt: skip
        assert (done.returncode, done.stderr) == (0, "")
        found.append(etree.parse(str(target)).getroot())
        source = target
    return found


def written(root: etree._Element) -> dict[str, tuple[float, float, float]]:
    """Place and size of the number of every window."""
    found = {}
    for group in root.iter(SVG + "g"):
        text = group.find(SVG + "text")
        if UNDERLIT + "opening" in group.attrib and text is not None:
            style = dict(p.split(":", 1) for p in text.get("style", "").split(";"))
            size = float(style["font-size"].removesuffix("px"))
            left = float(text.get("x")) + (0.3 * size if style["text-anchor"] == "start" else 0.0)
            found[str(text.text)] = (left, float(text.get("y")), size)
    return found


def box_of(number: tuple[float, float, float]) -> shapely.Geometry:
    """About what a digit covers: 0.6 as wide and 0.72 as high as the type."""
    x, y, size = number
    return shapely.box(x - 0.3 * size, y - 0.72 * size, x + 0.3 * size, y)


def above(root: etree._Element) -> shapely.Geometry:
    """All that is drawn above the windows."""
    card = read_card(read_drawing(root, "card.svg"), "fold").card
    tape = [piece.geometry for piece in (*card.strips, *card.patches)]
    return shapely.union_all([*tape, *(part.body for part in card.parts)])


def test_neither_lights_nor_tape_hide_a_number(drawings: list[etree._Element]) -> None:
    lit, taped = drawings[2], drawings[3]
    hidden = [n for n, at in written(lit).items() if box_of(at).intersects(above(taped))]
    assert hidden, "this card shows nothing: its tape hides no number"
    for root in drawings:
        numbers = written(root)
        assert sorted(numbers) == ["1", "2", "3", "4"]
        for number, at in numbers.items():
            assert not box_of(at).intersects(above(root)), number
            assert at[2] >= 2.2


def test_a_number_stays_with_its_window(drawings: list[etree._Element]) -> None:
    """Nearer to its own window than to any other."""
    card = read_card(read_drawing(drawings[3], "card.svg"), "fold").card
    for number, at in written(drawings[3]).items():
        far = {str(o.number): o.outline.distance(box_of(at)) for o in card.openings}
        assert min(far, key=lambda name: far[name]) == number
        assert far[number] < 4.0


def test_what_tape_does_not_hide_stays_where_it_was(drawings: list[etree._Element]) -> None:
    lit, taped = written(drawings[2]), written(drawings[3])
    clear = [
        n for n, at in lit.items() if not box_of(at).buffer(1.0).intersects(above(drawings[3]))
    ]
    assert clear
    for number in clear:
        assert taped[number] == lit[number]


def test_second_runs_change_no_number(drawings: list[etree._Element]) -> None:
    assert written(drawings[3]) == written(drawings[4]) == written(drawings[5])


def test_the_makers_own_words_stay(drawings: list[etree._Element]) -> None:
    for root in drawings:
        (mine,) = [t for t in root.iter(SVG + "text") if t.get("id") == "mine"]
        assert (mine.text, mine.get("x"), mine.get("y")) == ("1", "5", "50")


def test_numbers_have_a_light_rim_under_dark_letters(drawings: list[etree._Element]) -> None:
    """Read on black as on white: contrast by WCAG 2.1 (7:1 is its strictest level)."""

    def luminance(colour: str) -> float:
        parts = [int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5)]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
        return sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))

    for root in drawings:
        made = [t for t in root.iter(SVG + "text") if UNDERLIT + "opening" in t.getparent().attrib]
        assert len(made) == 4
        for text in made:
            style = dict(p.split(":", 1) for p in text.get("style").split(";"))
            assert (luminance(style["stroke"]) + 0.05) / (luminance(style["fill"]) + 0.05) > 7.0
            assert style["paint-order"] == "stroke"
            size = float(style["font-size"].removesuffix("px"))
            assert 0.1 * size < float(style["stroke-width"]) / 2.0 < 0.2 * size
