"""Catalogs are complete, and compiled from what the translators wrote."""

from __future__ import annotations

import gettext
import re
from collections.abc import Iterator
from pathlib import Path
from string import Formatter

import pytest

from kit.german import english_in
from locale_tools import write_catalogs as tools

LANGUAGES = tools.languages()
ROOMS = tools.rooms()

#: What stands in drawings and files is not translated; figures are the same.
KEPT = re.compile(r"underlit:\w+|\[cutter\]|CR\d{4}|Die cut|\bP1\b|\bM1\b|\d+")

FILLED_IN = re.compile(r"\{\w*\}")


def pairs(language: str, room: str) -> Iterator[tuple[str, str]]:
    """(English, translated) of a room, each form of a counted text by itself."""
    for message in tools.translated(language, room):
        if isinstance(message.id, tuple):
            yield from ((message.id[min(i, 1)], text) for i, text in enumerate(message.string))
        elif message.id:
            yield message.id, message.string


def words_in(text: str) -> set[tuple[str, str]]:
    """Names in braces with their formats; literal braces are none."""
    return {(name, spec or "") for _, name, spec, _ in Formatter().parse(text) if name is not None}


def test_texts_are_gathered_wherever_they_stand(tmp_path: Path) -> None:
    """In the order of the file; also inside another text's words, and as what else is said."""
    source = tmp_path / "module.py"
    source.write_text(
        'say(TABLE.get(x, later("One.")))\n'
        'say("Two: {words}.", words=say_count("{number} fold", "{number} folds", f(x)))\n'
        'say("three " "in a row" if y else "")\nsay("Three " "in a row.")\nsay(x)\nother("Four.")\n'
    )
    assert tools.said_in(source) == [
        "One.", "Two: {words}.", ("{number} fold", "{number} folds"), "Three in a row."
    ]  # fmt: skip


def test_german_is_there() -> None:
    assert "de" in LANGUAGES


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("room", sorted(ROOMS))
class TestRoom:
    def test_every_text_is_translated(self, language: str, room: str) -> None:
        wanted = [message.id for message in ROOMS[room] if message.id]
        found = {m.id: m.string for m in tools.translated(language, room) if m.id}
        assert set(found) == set(wanted), "run tests/locale_tools/write_catalogs.py"
        assert [english for english, text in pairs(language, room) if not text] == []

    def test_names_codes_and_numbers_stay(self, language: str, room: str) -> None:
        for english, text in pairs(language, room):
            if english != "1.5":
                assert sorted(KEPT.findall(text)) == sorted(KEPT.findall(english))

    def test_the_words_to_fill_in_are_the_same(self, language: str, room: str) -> None:
        if room != "dialogs":
            for english, text in pairs(language, room):
                if "{" in english.replace("{{", ""):
                    assert words_in(text) == words_in(english)

    def test_no_english_is_left(self, language: str, room: str) -> None:
        if language == "de":  # of other languages these words may be words
            for _, text in pairs(language, room):
                assert english_in(FILLED_IN.sub("", text)) == []

    def test_ends_are_alike(self, language: str, room: str) -> None:
        for english, text in pairs(language, room):
            for end in ": .!?" if room != "dialogs" else ":":
                assert text.endswith(end) == english.endswith(end), text
            assert text.startswith(" ") == english.startswith(" "), text


@pytest.mark.parametrize("language", LANGUAGES)
class TestLanguage:
    def test_a_text_says_the_same_in_every_room(self, language: str) -> None:
        said: dict[str, set[str]] = {}
        for room in ROOMS:
            for english, text in pairs(language, room):
                said.setdefault(english, set()).add(text)
        assert {english: texts for english, texts in said.items() if len(texts) > 1} == {}

    def test_what_is_read_is_what_was_written(self, language: str) -> None:
        path = tools.compiled(language)
        assert path.read_bytes() == tools.as_mo(tools.whole(language))
        with path.open("rb") as file:
            catalog = gettext.GNUTranslations(file)
        assert catalog.gettext("Options") != "Options"
