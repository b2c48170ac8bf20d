"""Catalogs are complete, and compiled from what the translators wrote."""

from __future__ import annotations

import gettext
import re

import pytest

from locale_tools import write_catalogs as tools

LANGUAGES = tools.languages()


def test_the_template_holds_every_text_of_the_dialogs() -> None:
    written = (tools.LOCALE / "underlit.pot").read_bytes()
    assert written == tools.as_po(tools.template()), "run tests/locale_tools/write_catalogs.py"


def test_german_is_there() -> None:
    assert "de" in LANGUAGES


@pytest.mark.parametrize("language", LANGUAGES)
class TestLanguage:
    def test_every_text_is_translated(self, language: str) -> None:
        found = {m.id: m.string for m in tools.translated(language) if m.id}
        wanted = [m.id for m in tools.template() if m.id]
        assert [text for text in wanted if not found.get(text)] == []
        assert set(found) == set(wanted)

    def test_names_codes_and_numbers_stay(self, language: str) -> None:
        """What stands in drawings and files is not translated; figures are the same."""
        kept = re.compile(r"underlit:\w+|\[cutter\]|CR\d{4}|NOT READY|Die cut|\bP1\b|\bM1\b|\d+")
        for message in tools.translated(language):
            if message.id:
                assert sorted(kept.findall(message.string)) == sorted(kept.findall(message.id))

    def test_labels_end_alike(self, language: str) -> None:
        for message in tools.translated(language):
            if message.id:
                assert message.string.endswith(":") == message.id.endswith(":")

    def test_what_the_host_reads_is_what_was_written(self, language: str) -> None:
        path = tools.compiled(language)
        assert path.read_bytes() == tools.as_mo(tools.translated(language))
        with path.open("rb") as file:
            catalog = gettext.GNUTranslations(file)
        assert catalog.gettext("Options") != "Options"
