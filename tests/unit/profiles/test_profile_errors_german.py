"""Refusals of profiles in German: the same file, keys, names and figures, in German words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from kit.german import english_in, in_german
from kit.wrong_profiles import NUMBERS, WRONG, error_of, refusal, settings_of

#: Keys and tables with their dots, texts in quotes, tables in brackets, figures.
KEPT = re.compile(r'"[^"]*"|\[[^\]]*\]|[\w-]+\.[\w.-]*\w|[a-z]+-[\w-]+|\d+')


def told(message: str) -> list[str]:
    """What stands in any language."""
    return sorted(KEPT.findall(message))


@pytest.mark.parametrize(("text", "parts"), WRONG)
def test_the_same_is_told(text: str, parts: list[str], tmp_path: Path, catalogs: Path) -> None:
    english = error_of(text, tmp_path)
    with in_german(catalogs):
        german = error_of(text, tmp_path)
    assert german != english
    assert told(german) == told(english)
    assert english_in(KEPT.sub("", german)) == []
    assert german.startswith("mine.toml")
    assert len(german) < 450


@pytest.mark.usefixtures("german")
class TestGerman:
    @pytest.mark.parametrize(("table", "key"), NUMBERS)
    def test_every_number_says_what_it_takes(self, table: str, key: str) -> None:
        said = refusal(settings_of(table, key, "1"))
        assert said.startswith("Die eigenen Einstellungen der Karte: ")
        assert re.search(rf"{key} braucht eine Zahl.*; da steht \"1\"\.$", said)
        assert english_in(KEPT.sub("", said)) == []

    def test_figures_stay_as_a_profile_has_them(self) -> None:
        said = refusal({"limits": {"foam-settling": -0.1}})
        assert "eine Zahl, von 0 bis 0.9; da steht -0.1." in said

    def test_where_a_file_cannot_be_read(self, tmp_path: Path) -> None:
        said = error_of("[limits]\nsmallest-gap = 2,5\n", tmp_path)
        assert "Hier müsste die Zeile zu Ende sein (Zeile 2, Spalte 17)" in said
