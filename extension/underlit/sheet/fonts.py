"""Letters: the two embedded fonts, how wide a line is, and how text is broken into lines.

Bitstream Vera comes with the PDF library and may be embedded and passed on.
"""

from __future__ import annotations

import unicodedata
from functools import cache
from typing import Any

#: Name in the PDF -> file of the library.
REGULAR, BOLD = "UnderlitSans", "UnderlitSansBold"
FILES = {REGULAR: "Vera.ttf", BOLD: "VeraBd.ttf"}

#: Height above and below the baseline as shares of the size (the fonts' own boxes), and lines.
ASCENT, DESCENT = 0.93, 0.24
LEADING = 1.3

#: Letters that the fonts lack -> what is printed instead.
INSTEAD = {"→": "-", "≥": ">=", "≤": "<=", "\t": " ", "\n": " "}


@cache
def metrics() -> Any:
    """The library's table of fonts, with ours in it."""
    from reportlab.pdfbase import pdfmetrics  # late: only the making sheet needs it
    from reportlab.pdfbase.ttfonts import TTFont

    for name, file in FILES.items():
        pdfmetrics.registerFont(TTFont(name, file))
    return pdfmetrics


@cache
def font_bytes(name: str) -> bytes:
    """The whole file of one of the fonts."""
    from pathlib import Path

    path = metrics().getFont(name).face.filename
    return Path(path).read_bytes()


@cache
def _glyphs() -> frozenset[int]:
    return frozenset(metrics().getFont(REGULAR).face.charToGlyph)


def clean(text: str) -> str:
    """Text with nothing in it that the fonts cannot print.

    A letter that they have only without its accent goes without; what is unknown becomes "?".
    """
    for odd, plain in INSTEAD.items():
        text = text.replace(odd, plain)
    return "".join(_printed(c) or "?" for c in unicodedata.normalize("NFC", text))


def printable(name: str) -> str:
    """A name by what the fonts can print of it; "" where no letter of it is left."""
    written = unicodedata.normalize("NFC", name)
    kept = "".join(map(_printed, written))
    if len(kept) == len(written):
        return kept
    kept = " ".join(kept.split()).strip(" -_")
    return kept if any(c.isalpha() for c in kept) else ""


@cache
def _printed(letter: str) -> str:
    """The letter, or what it is without its accents; "" where the fonts have neither."""
    plain = (letter, unicodedata.normalize("NFKD", letter)[:1])
    return next((c for c in plain if ord(c) in _glyphs() and c.isprintable()), "")


@cache
def width(text: str, size: float, bold: bool = False) -> float:
    """Length in mm of one line."""
    return float(metrics().stringWidth(clean(text), BOLD if bold else REGULAR, size))


def wrap(text: str, size: float, room: float, bold: bool = False) -> list[str]:
    """Lines of at most `room` mm; a word that is longer is cut."""
    lines: list[str] = []
    line = ""
    for word in clean(text).split():
        longer = f"{line} {word}" if line else word
        if width(longer, size, bold) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while width(line, size, bold) > room and len(line) > 1:
            fits = next(
                n
                for n in range(len(line) - 1, 0, -1)
                if n == 1 or width(line[:n], size, bold) <= room
            )
            lines.append(line[:fits])
            line = line[fits:]
    return [*lines, line] if line else lines


def shortened(text: str, size: float, room: float, bold: bool = False) -> str:
    """One line that fits, its end left out where need be."""
    text = clean(text)
    if width(text, size, bold) <= room:
        return text
    while text and width(text + "…", size, bold) > room:
        text = text[:-1]
    return text.rstrip() + "…"
