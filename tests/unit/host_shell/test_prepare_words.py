"""What Prepare says: each thing once, in words that fit."""

from __future__ import annotations

from pathlib import Path

import pytest

from kit.prepared import DOOR, MOON, PANEL, SHEET, Prepared, layer


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
