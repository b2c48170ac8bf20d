"""Colours from a maker's words."""

from __future__ import annotations

import re

import pytest

from underlit.colours.paints import KNOWN, SPARE, read_colours
from underlit.errors import UnknownChoice


def test_words_as_makers_write_them() -> None:
    found = read_colours(" Red,  light   blue ,moss=#4A5D23, kraft,")
    assert [(c.name, c.paint) for c in found] == [
        ("Red", KNOWN["red"]),
        ("light blue", KNOWN["light blue"]),
        ("moss", "#4a5d23"),
        ("kraft", KNOWN["kraft"]),
    ]


def test_unknown_words_get_paints_that_differ() -> None:
    names = [f"paper {n}" for n in range(len(SPARE))]
    assert len({c.paint for c in read_colours(", ".join(names))}) == len(SPARE)
    mixed = read_colours("blue, harbour, dusk, fog")
    assert len({c.paint for c in mixed}) == 4


def test_every_paint_is_one() -> None:
    assert all(re.fullmatch("#[0-9a-f]{6}", paint) for paint in (*KNOWN.values(), *SPARE))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("red", "one is given"),
        (",", "0 are given"),
        (", ".join(f"c{n}" for n in range(21)), "21 are given"),
        ("red, blue, Red", "has red twice"),
        ("red, =#123456", "not =#123456"),
        ("red, moss=#12", "not moss=#12"),
        ("red, --", "not --"),
    ],
)
def test_what_is_no_list_of_colours(text: str, words: str) -> None:
    with pytest.raises(UnknownChoice, match=re.escape(words)):
        read_colours(text)


def test_colours_in_the_makers_own_words(german: None) -> None:
    """A word of either language is painted as what it means."""
    found = read_colours("Rot, Hellblau, moos=#4a5d23, natur, navy")
    assert [(c.name, c.paint) for c in found] == [
        ("Rot", KNOWN["red"]),
        ("Hellblau", KNOWN["light blue"]),
        ("moos", "#4a5d23"),
        ("natur", KNOWN["kraft"]),
        ("navy", KNOWN["navy"]),
    ]


def test_german_words_of_no_list(german: None) -> None:
    with pytest.raises(UnknownChoice, match="angegeben ist eine"):
        read_colours("rot")
    with pytest.raises(UnknownChoice, match="hat rot zweimal"):
        read_colours("rot, blau, Rot")
