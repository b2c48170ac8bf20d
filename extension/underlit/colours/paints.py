"""Colours in a maker's words, and how they are painted in pictures."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from ..records import record

#: Words of paper shops and what stands in for them on a page (proposed).
KNOWN = {
    "red": "#c62f33", "dark red": "#8c1c22", "burgundy": "#6d1a36", "coral": "#f0745a",
    "orange": "#ee8a2b", "apricot": "#f7bd84", "yellow": "#f6d33c", "mustard": "#c99a2e",
    "gold": "#c9a227", "lime": "#b5cf3f", "green": "#3d9150", "dark green": "#1f5a3a",
    "olive": "#76803a", "mint": "#a8dcc2", "turquoise": "#2fa9a6", "teal": "#176f73",
    "light blue": "#9fcbee", "sky blue": "#7bb8ea", "blue": "#2f63b5", "dark blue": "#1d3b78",
    "navy": "#16264f", "lilac": "#c3aee0", "violet": "#6f4aa8", "purple": "#7d3a8f",
    "pink": "#f4a9c0", "magenta": "#c43a87", "brown": "#7a5233", "kraft": "#b58b5a",
    "beige": "#e3d3b4", "cream": "#f5ecd4", "ivory": "#f7f2e2", "white": "#ffffff",
    "silver": "#c3c8ce", "grey": "#8d949c", "gray": "#8d949c", "dark grey": "#4d535b",
    "black": "#22252a",
}  # fmt: skip

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

    Raises ValueError with the end of a sentence that begins with the name of the option.
    """
    words = [" ".join(word.split()) for word in text.split(",") if word.strip()]
    if not LEAST <= len(words) <= MOST:
        raise ValueError(
            f"names {LEAST} to {MOST} colours with commas between, such as red, blue, cream; "
            f"{'one is' if len(words) == 1 else f'{len(words)} are'} given."
        )
    names = [_OWN.fullmatch(word) for word in words]
    plain = [own[1] if own else word for word, own in zip(words, names, strict=True)]
    for word in plain:
        if not any(letter.isalnum() for letter in word) or "=" in word:
            raise ValueError(f"names colours as red or moss=#4a5d23, not {word}.")
    lower = [word.lower() for word in plain]
    twice = next((word for k, word in enumerate(lower) if word in lower[:k]), None)
    if twice:
        raise ValueError(f"names {twice} twice; each colour counts once.")
    spare = _spare(KNOWN[word] for word in lower if word in KNOWN)
    return tuple(
        Colour(word, own[2].lower() if own else KNOWN.get(word.lower()) or next(spare))
        for word, own in zip(plain, names, strict=True)
    )


def _spare(taken: Iterable[str]) -> Iterator[str]:
    used = set(taken)
    while True:
        yield from (paint for paint in SPARE if paint not in used)
        used = set()
