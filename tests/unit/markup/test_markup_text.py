"""Lines of text: nothing dropped, nothing wider than its room."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from underlit.markup.text import clean, text_width, wrap

SENTENCE = "Plus and minus are only 1.3 mm apart here; a hand needs 2."


def squeezed(text: str) -> str:
    return "".join(text.split())


@given(st.text(max_size=200), st.booleans(), st.floats(8.0, 90.0))
def test_wrapping_drops_nothing_and_keeps_its_room(text: str, bold: bool, room: float) -> None:
    lines = wrap(text, 3.2, bold, room)
    assert squeezed("".join(lines)) == squeezed(clean(text))
    assert all(line and line == line.strip() for line in lines)
    assert all(text_width(line, 3.2, bold) <= room + 1e-9 for line in lines)


@given(st.lists(st.text(st.sampled_from("abcmW1"), min_size=1, max_size=9), max_size=40))
def test_words_stay_whole_where_they_fit(words: list[str]) -> None:
    lines = wrap(" ".join(words), 3.0, False, 60.0)
    assert " ".join(lines).split() == words


def test_lines_are_filled_greedily() -> None:
    lines = wrap(SENTENCE, 3.2, False, 60.0)
    for line, following in pairwise(lines):
        first = following.split()[0]
        assert text_width(f"{line} {first}", 3.2) > 60.0 or first[0].isdigit()


def test_a_figure_and_its_unit_stay_together() -> None:
    for room in range(13, 90):
        assert any("1.3 mm" in line for line in wrap(SENTENCE, 3.2, False, float(room)))


def test_long_words_are_cut() -> None:
    lines = wrap("x" * 200, 3.2, False, 50.0)
    assert len(lines) > 5
    assert "".join(lines) == "x" * 200
    assert max(text_width(line, 3.2) for line in lines) <= 50.0


def test_room_for_less_than_a_character_still_ends() -> None:
    assert wrap("Wide", 3.2, True, 0.5) == ["W", "i", "d", "e"]


@pytest.mark.parametrize(
    ("raw", "kept"),
    [
        ("a\x00b\x07c", "abc"),
        ("one\ttwo\r\nthree\x0bfour", "one two three four"),
        ("\u202eturned\u2066 \ufeffround\u200b", "turned round"),
        ("\ud800lone\udfff half", "lone half"),
        ("\uffff\ufffe", ""),
        ('  <b>&amp; "Häuschen" 灯 🏮 ', '<b>&amp; "Häuschen" 灯 🏮'),
    ],
)
def test_clean(raw: str, kept: str) -> None:
    assert clean(raw) == kept


@given(st.text())
def test_clean_text_is_one_printable_line(text: str) -> None:
    assert clean(text).isprintable()
    assert clean(clean(text)) == clean(text)


@given(st.text(max_size=30), st.text(max_size=30), st.booleans())
def test_width_adds_up(a: str, b: str, bold: bool) -> None:
    assert text_width(a + b, 2.0, bold) == pytest.approx(
        text_width(a, 2.0, bold) + text_width(b, 2.0, bold)
    )
    assert text_width(a, 2.0, bold) >= 0.28 * 2.0 * len(a) - 1e-9
