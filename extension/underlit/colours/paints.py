"""Colours in a maker's words, and how they are painted in pictures."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from ..errors import UnknownChoice
from ..language import later, say, say_count
from ..records import record

#: Words of paper shops (also in the maker's language) and what stands in for them on a page
#: (proposed).
KNOWN = {
    later("red"): "#c62f33",
    later("dark red"): "#8c1c22",
    later("burgundy"): "#6d1a36",
    later("coral"): "#f0745a",
    later("orange"): "#ee8a2b",
    later("apricot"): "#f7bd84",
    later("yellow"): "#f6d33c",
    later("mustard"): "#c99a2e",
    later("gold"): "#c9a227",
    later("lime"): "#b5cf3f",
    later("green"): "#3d9150",
    later("dark green"): "#1f5a3a",
    later("olive"): "#76803a",
    later("mint"): "#a8dcc2",
    later("turquoise"): "#2fa9a6",
    later("teal"): "#176f73",
    later("light blue"): "#9fcbee",
    later("sky blue"): "#7bb8ea",
    later("blue"): "#2f63b5",
    later("dark blue"): "#1d3b78",
    later("navy"): "#16264f",
    later("lilac"): "#c3aee0",
    later("violet"): "#6f4aa8",
    later("purple"): "#7d3a8f",
    later("pink"): "#f4a9c0",
    later("magenta"): "#c43a87",
    later("brown"): "#7a5233",
    later("kraft"): "#b58b5a",
    later("beige"): "#e3d3b4",
    later("cream"): "#f5ecd4",
    later("ivory"): "#f7f2e2",
    later("white"): "#ffffff",
    later("silver"): "#c3c8ce",
    later("grey"): "#8d949c",
    later("gray"): "#8d949c",
    later("dark grey"): "#4d535b",
    later("black"): "#22252a",
}

#: What unknown words are painted with, one after the other.
SPARE = ("#2f63b5", "#f6d33c", "#c62f33", "#a8dcc2", "#7d3a8f", "#ee8a2b", "#3d9150", "#f4a9c0")

#: So many colours make a plan that still can be read.
LEAST, MOST = 2, 20

_OWN = re.compile(r"(.+?)\s*=\s*(#[0-9a-f]{6})", re.IGNORECASE)


@record
class Colour:
    """A paper: its name, and its paint in pictures as "#rrggbb"."""

    name: str
    paint: str


def read_colours(text: str) -> tuple[Colour, ...]:
    """Colours from words with commas between, as in "red, kraft, moss=#4a5d23".

    Raises UnknownChoice.
    """
    words = [" ".join(word.split()) for word in text.split(",") if word.strip()]
    if not LEAST <= len(words) <= MOST:
        raise UnknownChoice(_wrong_number(len(words)))
    names = [_OWN.fullmatch(word) for word in words]
    plain = [own[1] if own else word for word, own in zip(words, names, strict=True)]
    for word in plain:
        if not any(letter.isalnum() for letter in word) or "=" in word:
            raise UnknownChoice(
                say(
                    "A colour is a word such as red, or moss=#4a5d23 with a paint of its own, not "
                    "{word}.",
                    word=word,
                )
            )
    lower = [word.lower() for word in plain]
    twice = next((word for k, word in enumerate(lower) if word in lower[:k]), None)
    if twice:
        raise UnknownChoice(
            say("The colour plan has {colour} twice; each colour counts once.", colour=twice)
        )
    known = KNOWN | {say(word): paint for word, paint in KNOWN.items()}
    spare = _spare(known[word] for word in lower if word in known)
    return tuple(
        Colour(word, own[2].lower() if own else known.get(word.lower()) or next(spare))
        for word, own in zip(plain, names, strict=True)
    )


def _wrong_number(number: int) -> str:
    return say_count(
        "A colour plan takes {least} to {most} colours with commas between, such as red, blue, "
        "cream; one is given.",
        "A colour plan takes {least} to {most} colours with commas between, such as red, blue, "
        "cream; {number} are given.",
        number,
        least=LEAST,
        most=MOST,
    )


def _spare(taken: Iterable[str]) -> Iterator[str]:
    used = set(taken)
    while True:
        yield from (paint for paint in SPARE if paint not in used)
        used = set()
