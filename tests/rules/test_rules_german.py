"""Validated in German, a card has the same findings, said in German."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from kit.german import english_in, in_german
from rules import cards
from rules.draw_faulty import FOLDER
from rules.drawings import validated
from underlit.rules import no_room
from underlit.rules.wording import span

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


@pytest.mark.usefixtures("german")
class TestSentences:
    """Told by laying tape, not by validating."""

    def test_a_neck(self) -> None:
        card = cards.bench()
        light = card.lights[0].id
        between = ("die Batterie", "Licht 2")
        cures = [no_room.wider(between, 1.0), no_room.shifted("Licht 1", (-2.0, 1.0))]
        found = no_room.finding(
            cards.case(card), light, "positive", (0.0, 0.0), between, 3.0, 2.0, cures
        )
        assert found.message == (
            "Kein Weg für das Band zum Plusfüßchen von Licht 1, zu eng ist es hier: die Batterie – "
            "Licht 2; nötig sind 3 mm, frei sind 2."
        )
        assert found.remedy == (
            "Mach den Durchgang 1 mm breiter: die Batterie – Licht 2. Oder: "
            "Verschiebe Licht 1 um 2 mm nach links und 1 mm nach unten."
        )

    @pytest.mark.parametrize(("times", "words"), [(1, "1 Stelle"), (3, "3 Stellen")])
    def test_one_place_and_several(self, times: int, words: str) -> None:
        assert words in no_room.over_paper(times)

    @pytest.mark.parametrize(
        ("low", "high", "said"),
        [
            (8.9, 32.0, "8,9 bis 32 Stunden"),
            (0.2, 0.9, "12 bis 54 Minuten"),
            (1.0, 9000.0, "1 Stunde bis mehr als ein Jahr"),
            (9000.0, 9001.0, "mehr als ein Jahr"),
        ],
    )
    def test_hours(self, low: float, high: float, said: str) -> None:
        assert span(low, high) == said
