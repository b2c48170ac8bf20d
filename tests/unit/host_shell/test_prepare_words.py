"""What Prepare says: each thing once, in words that fit."""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import etree

from kit.prepared import DOOR, MOON, PANEL, SHEET, SVG, Prepared, layer
from kit.run import UNDERLIT
from underlit.profiles import load_profile
from underlit.workflows.prepare import prepare
from underlit_host.read_drawing import read_drawing


@pytest.fixture
def card(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Prepared:
    return Prepared(tmp_path, monkeypatch)


@pytest.mark.parametrize("tell", [(), ("--tell", "true")])
@pytest.mark.parametrize(
    "drawing",
    [
        "",
        layer(PANEL, MOON),
        layer(MOON.replace('r="12"', 'r="0.1"')),
        layer('<rect id="edge" width="210" height="297"/>', MOON, DOOR),
    ],
)
def test_no_sentence_comes_twice(card: Prepared, drawing: str, tell: tuple[str, ...]) -> None:
    words = card.run(drawing, *tell).words
    sentences = [s.strip() for s in words.replace("\n", " ").split(". ") if len(s) > 12]
    assert len(set(sentences)) == len(sentences), words


class TestBackSheetDrawn:
    @pytest.mark.parametrize(
        ("margin", "words"),
        [("0", "a back sheet as large as the panel."), ("2", "2 mm inside the panel's edge.")],
    )
    def test_it_is_told_how_large(self, card: Prepared, margin: str, words: str) -> None:
        card.run(layer(PANEL, MOON), "--add-base", "true", "--base-margin", margin)
        assert words in card.words

    def test_not_on_a_sheet_whose_panel_is_still_to_be_chosen(self, card: Prepared) -> None:
        sheet = layer(PANEL, MOON, '<path id="other" d="M 130,10 H 200 V 100 H 130 Z"/>')
        card.run(sheet, "--add-base", "true")
        assert "I draw the back sheet as soon as the panel is chosen." in card.words
        assert b"underlit-back-sheet" not in card.drawing
        card.again("--panel", "panel", "--add-base", "true")
        assert "I drew a back sheet 1.6 mm inside the panel's edge." in card.words
        assert "peeps out" not in card.words

    @pytest.mark.parametrize("margin", ["abc", "", "nan", "-1", "51", "2mm"])
    def test_a_margin_that_is_none(self, card: Prepared, margin: str) -> None:
        told = card.run(layer(PANEL), f"--base-margin={margin}").refused()
        assert told == f"--base-margin is a length from 0 to 50 (mm), not {margin!r}."


class TestBackSheetOnTheLayerOfThePanel:
    @pytest.mark.parametrize("windows", [(), (MOON, DOOR)])
    def test_it_is_asked_about(self, card: Prepared, windows: tuple[str, ...]) -> None:
        card.run(layer(PANEL, SHEET, *windows, label="Die cut"))
        assert "sheet runs just inside the panel's edge" in card.words
        assert "select it and run this again" in card.words
        card.again("--id", "sheet")
        assert card.roles() == {"sheet": "base"}
        assert "runs just inside" not in card.words

    def test_not_where_there_is_one_already(self, card: Prepared) -> None:
        base = layer(PANEL.replace("panel", "mine"), label="Base", name="b")
        card.run(layer(PANEL, SHEET, MOON, label="Die cut") + base)
        assert "runs just inside" not in card.words

    def test_a_large_window_is_a_window(self, card: Prepared) -> None:
        window = '<path id="window" d="M 18,18 H 110 V 142 H 18 Z"/>'
        card.run(layer(PANEL, window, MOON, label="Die cut"))
        assert "runs just inside" not in card.words


@pytest.mark.parametrize(
    ("label", "meant"),
    [
        ("Die cut copy", "Die cut"),
        ("Die cuts", "Die cut"),
        ("Tape 2", "Tape"),
        ("Lihgts", "Lights"),
        ("Back sheet", "Base"),
        ("Windows", "Die cut"),
    ],
)
def test_a_layer_that_is_not_read_for_its_label(card: Prepared, label: str, meant: str) -> None:
    card.run(layer(PANEL, label="Die cut") + layer(MOON, label=label, name="other"))
    assert f'I do not read the layer "{label}"' in card.words
    assert f'rename it to "{meant}" (or "{meant} #2")' in card.words


def test_layers_of_other_names_are_not_mentioned(card: Prepared) -> None:
    inner = layer(MOON, label="Die cut copy", name="in")  # inherits its role
    second = layer(DOOR, label="Die cut #2", name="second")
    card.run(layer(PANEL, inner, label="Die cut") + second + layer(label="Notes", name="notes"))
    assert "do not read" not in card.words
    assert card.openings() == ["moon", "door"]


class TestNamesOfWindows:
    TWO = "M {x},{y} h 12 v 12 h -12 z M {z},{y} h 12 v 12 h -12 z"

    def test_no_name_comes_twice(self, card: Prepared) -> None:
        drawn = (
            f'<path id="a" d="{self.TWO.format(x=20, z=40, y=20)}"/>',
            '<path id="a#1" d="M 60,20 h 12 v 12 h -12 z"/>',
            f'<path id="a#3" d="{self.TWO.format(x=20, z=40, y=60)}"/>',
        )
        card.run(layer(PANEL, *drawn))
        assert card.openings() == ["a#2", "a#4", "a#1", "a#3#1", "a#3#2"]

    def test_windows_without_an_id_can_be_chosen_by_every_name(
        self, card: Prepared, tmp_path: Path
    ) -> None:
        from place_lights import PlaceLights

        bare = '<circle cx="{}" cy="40" r="12"/>'
        card.run(layer(PANEL, bare.format(40), bare.format(80)))
        assert card.openings() == ["Layer 1 2", "Layer 1 3"]
        source, target, report = (tmp_path / n for n in ("ready.svg", "lit.svg", "lit.json"))
        source.write_bytes(card.drawing)
        for choice in ("--id=Layer 1 3", "--id=underlit-opening-2", "--openings=2"):
            told = [str(source), choice, "--output", str(target), "--report", str(report)]
            assert PlaceLights().run(told) == 0
            assert '"opening": "Layer 1 3"' in report.read_text("utf-8")

    def test_an_unknown_number_is_refused(self, card: Prepared) -> None:
        told = card.run(layer(PANEL), "--id", "Layer 1 7").refused()
        assert "Nothing in this drawing has the id Layer 1 7" in told


class TestWhatIsNoOutline:
    PICTURE = '<image id="scan" width="90" height="90" xlink:href="data:image/png,x"/>'
    TEXT = '<text id="words" x="9" y="60">Moon</text>'

    @pytest.mark.parametrize(
        ("drawing", "words"),
        [
            (layer(PICTURE), "Trace the picture (Path > Trace Bitmap)"),
            (PICTURE, "Trace the picture (Path > Trace Bitmap)"),
            (layer(TEXT), "Turn the text into outlines (Path > Object to Path)"),
            (layer(PANEL, MOON, more='style="display:none"'), "Layer 1 is hidden: show it first"),
            (
                layer(MOON.replace('r="12"', 'r="0.5"')),
                "smaller than 2 mm² (1 outline), so I took it as dust",
            ),
        ],
    )
    def test_a_page_without_outlines_is_not_called_empty(
        self, card: Prepared, drawing: str, words: str
    ) -> None:
        card.run(drawing)
        assert "empty" not in card.words
        assert words in card.words
        assert card.root().find(f"{SVG}g[@{UNDERLIT}role]") is None  # untouched

    def test_text_and_pictures_beside_a_bare_outline_are_named_once(self, card: Prepared) -> None:
        hidden = '<g style="display:none"><text x="9" y="9">Sketch</text></g>'
        card.run(
            PANEL + MOON + self.TEXT + self.TEXT.replace("Moon", "Sun") + self.PICTURE + hidden
        )
        assert '"Moon", "Sun" are texts, and I read outlines only.' in card.words
        assert "scan is a picture, and I read outlines only." in card.words
        assert "Sketch" not in card.words
        card.again()
        assert "I read outlines only" not in card.words

    def test_stored_patterns_and_the_tools_own_layers_leave_it_empty(self, card: Prepared) -> None:
        card.run(f"<defs>{self.PICTURE}</defs>")
        assert "The page is empty" in card.words
        card.again()
        assert "The page is empty" in card.words

    def test_left_out_things_are_told_in_the_editor_as_well(self, card: Prepared) -> None:
        card.run(layer(PANEL, MOON, self.TEXT, self.PICTURE))
        told = message_of(card.drawing)
        assert '"words" is text; I read outlines only' in told
        assert '"scan" is a picture; I read outlines only' in told

    def test_many_of_them_in_short(self, card: Prepared) -> None:
        texts = "".join(self.TEXT.replace("words", f"w{n}") for n in range(9))
        card.run(layer(PANEL, MOON, texts))
        told = message_of(card.drawing)
        assert told.count("I read outlines only") == 3
        assert "And 6 more" in told
        assert card.words.count("I read outlines only") == 9


def message_of(data: bytes) -> str:
    """The closing message in the editor for a drawing that is ready."""
    drawing = read_drawing(etree.fromstring(data), "card.svg")
    return prepare(drawing, load_profile("hand-laid", {}, None), None).message


class TestDoubts:
    def test_an_open_panel(self, card: Prepared) -> None:
        card.run(layer('<path id="edge" d="M 10,10 H 110 V 150 H 10 V 13"/>', MOON))
        assert "edge goes round so much that it may be the panel" in message_of(card.drawing)

    def test_a_second_card_that_lies_over_the_edge(self, card: Prepared) -> None:
        other = '<rect id="other" x="110" y="20" width="80" height="100"/>'
        card.run(layer(PANEL, MOON, other))
        assert "1 outline crosses the panel's edge, so I cut it off there" in card.words

    def test_a_frame_round_the_card(self, card: Prepared) -> None:
        frame = '<rect id="frame" x="2" y="2" width="206" height="293"/>'
        card.run(layer(frame, PANEL, MOON, DOOR))
        assert "If it is only a frame, select the edge of your panel" in card.words
        card.again("--id", "panel", "--selection", "panel")
        assert card.openings() == ["moon", "door"]

    @pytest.mark.parametrize(("size", "word"), [(3, "small"), (500, "large")])
    def test_a_size_that_no_card_has(self, card: Prepared, size: int, word: str) -> None:
        card.run(layer(f'<rect id="p" width="{size}" height="{size}"/>'))
        assert f"That is very {word} for a card" in card.words

    def test_a_panel_without_windows_has_a_next_step(self, card: Prepared) -> None:
        card.run(layer(PANEL))
        assert "Next: draw its windows on Die cut" in card.words


class TestDrawnOnOpenings:
    """The layer of tints is named as a maker might name her own layer of windows."""

    def test_all_of_it(self, card: Prepared) -> None:
        card.run(layer(PANEL, MOON, label="Openings"))
        assert "empty" not in card.words
        assert "changed nothing" in card.words
        assert 'on the layer "Openings" (panel, moon)' in card.words
        assert card.openings() == []

    def test_windows_alone(self, card: Prepared) -> None:
        card.run(layer(PANEL, label="Die cut") + layer(MOON, label="Openings", name="tints"))
        assert card.words.count('on the layer "Openings" (moon)') == 1
        before = card.words
        assert card.again().words == before

    def test_not_of_our_tints_nor_of_a_note(self, card: Prepared) -> None:
        note = layer('<text id="note" x="9" y="9">Moon</text>', label="Openings", name="tints")
        card.run(layer(PANEL, MOON, label="Die cut") + note)
        assert card.openings() == ["moon"]
        assert "do not read" not in card.words
        assert "do not read" not in card.again().words
