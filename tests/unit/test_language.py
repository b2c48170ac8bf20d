"""Speaking: whole sentences, counted things, figures, and English where nothing is translated."""

from __future__ import annotations

import numpy as np
import pytest

from underlit.language import (
    and_more,
    begun,
    figure,
    inside,
    joined,
    later,
    listed,
    mm,
    say,
    say_count,
    speak,
    spoken,
    thousands,
    two_digits,
)


def test_words_are_filled_in() -> None:
    assert say("{name} is lit.", name="light 3") == "light 3 is lit."


def test_text_without_words_keeps_its_braces() -> None:
    assert say("{ as it stands }") == "{ as it stands }"


@pytest.mark.parametrize(("number", "said"), [(1, "1 light"), (0, "0 lights"), (3, "3 lights")])
def test_counted(number: int, said: str) -> None:
    assert say_count("{number} light", "{number} lights", number) == said


def test_a_marked_text_is_itself() -> None:
    assert later("Plus and minus") == "Plus and minus"


@pytest.mark.parametrize(
    ("value", "said"),
    [(1.3, "1.3"), (4.0, "4"), (0.04, "0.04"), (0.0, "0"), (-0.01, "-0.01"), (100.0, "100")],
)
def test_figures(value: float, said: str) -> None:
    assert figure(value) == said


@pytest.mark.parametrize(
    ("value", "said"),
    [(0.001, "0"), (0.314, "0.31"), (1.34, "1.3"), (14.2, "14"), (1234.0, "1200"), (99.9, "100")],
)
def test_estimates(value: float, said: str) -> None:
    assert two_digits(value) == said


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], ""),
        (["red"], "red"),
        (["red", "amber"], "red and amber"),
        (["red", "amber", "blue"], "red, amber and blue"),
    ],
)
def test_lists(words: list[str], said: str) -> None:
    assert joined(words) == said


@pytest.mark.parametrize(
    ("asked", "heard"), [("de", "de"), ("de_AT", "de"), ("en", "en"), ("xx", "en")]
)
def test_the_language_that_is_spoken_is_told(asked: str, heard: str) -> None:
    speak(asked)
    try:
        assert spoken() == heard
    finally:
        speak("en")


@pytest.mark.parametrize(
    ("number", "said"),
    [(1, "0"), (3, "0, 1, 2"), (4, "0, 1, 2, 3"), (5, "0, 1, 2 and 2 more")],
)
def test_few_of_many(number: int, said: str) -> None:
    assert and_more(range(number), 3) == said


@pytest.mark.usefixtures("german")
class TestGerman:
    def test_decimal_sign(self) -> None:
        assert mm(1.5) == "1,5 mm"
        assert thousands(500000) == "500.000"
        assert listed(["3", "6,35"]) == "3; 6,35"

    def test_lists(self) -> None:
        assert joined(["rot", "gelb", "blau"]) == "rot, gelb und blau"

    def test_counted_by_an_array(self) -> None:
        counted = say_count("{number} light", "{number} lights", np.int32(3))
        assert counted == "3 Lichter"

    def test_what_is_not_translated_stays_english(self) -> None:
        assert say("No catalog has this.") == "No catalog has this."


def test_a_phrase_begins_a_sentence_and_a_sentence_stands_inside_one() -> None:
    assert (begun("the battery"), begun("Licht 3"), begun("")) == ("The battery", "Licht 3", "")
    assert (inside("Use foil"), inside("")) == ("use foil", "")


@pytest.mark.parametrize(("number", "said"), [(7, "7"), (1234, "1,234"), (500000, "500,000")])
def test_marks_after_thousands(number: int, said: str) -> None:
    assert thousands(number) == said


def test_figures_in_a_row() -> None:
    assert listed(["3", "5", "6.35"]) == "3, 5, 6.35"
