"""Validated in German, a card has the same findings, said in German."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from kit.german import english_in, in_german
from rules.draw_faulty import FOLDER
from rules.drawings import validated

SAMPLES = [*sorted(FOLDER.parent.glob("*.svg")), *sorted(FOLDER.glob("*.svg"))]

#: Names that a maker gave, and words of attributes.
QUOTED = re.compile("„[^“]*“|underlit:\\w+ = [\\w, ]+ oder \\w+")

WORDS = ("message", "remedy")


def findings(path: Path) -> tuple[list[dict[str, Any]], dict[str, object]]:
    """The words of all findings; the report without words."""
    report: dict[str, Any] = validated(path.read_text(encoding="utf-8")).report
    (report["stack"] or {}).pop("note", None)
    rows = [*report["findings"], *report["accepted"]]
    return [{word: row.pop(word) for word in WORDS} for row in rows], report


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_only_the_words_are_german(path: Path, catalogs: Path) -> None:
    english, report = findings(path)
    with in_german(catalogs):
        german, same = findings(path)
    assert same == report
    for before, after in zip(english, german, strict=True):
        for word in WORDS:
            assert after[word] != before[word]
            assert english_in(QUOTED.sub("", after[word])) == []
            assert numbers(after[word].replace(",", ".")) == numbers(before[word].replace(",", "."))


def numbers(text: str) -> list[str]:
    """Figures of a sentence, in any order: words may be turned round."""
    return sorted(re.findall(r"\d+(?:\.\d+)?", text))
