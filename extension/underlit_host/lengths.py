"""Lengths and numbers of SVG attributes, in user units (CSS px of the place where they stand).

Sources: SVG 1.1 7.10 (units), 4.2 (number grammar). Font-relative units are not read: what they
come to depends on fonts.
"""

from __future__ import annotations

import math
import re

from underlit.language import say
from underlit.units import MM_PER_PX, MM_PER_UNIT

#: One number of the SVG grammar, as long as it goes.
NUMBER = r"(?>[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)"
GAP = r"[ \t\r\n]*+,?[ \t\r\n]*+"

#: Compiled at start; patterns that few drawings need are compiled when they are met.
number = re.compile(NUMBER)
numbers = re.compile(rf"[ \t\r\n]*+(?:{NUMBER}(?:{GAP}{NUMBER})*+)?+[ \t\r\n]*+")

_PX = {unit: mm / MM_PER_PX for unit, mm in MM_PER_UNIT.items()}


class Unreadable(Exception):
    """Something of an object cannot be read; the text is a short clause that says what."""


def read_length(text: str, whole: float, name: str = "") -> float:
    """A length in user units; per cent are of `whole`. Raises Unreadable, which names it."""
    text = text.strip()
    found = number.match(text)
    if found is not None:
        value, unit = float(found[0]), text[found.end() :].strip().lower()
        factor = whole / 100.0 if unit == "%" else _PX.get(unit)
        if factor is not None and math.isfinite(value):
            return value * factor
    raise Unreadable(say("its {name} is {text}", name=name or say("size"), text=shorten(text)))


def read_numbers(text: str, name: str) -> list[float]:
    """A list of numbers apart by blanks or commas. Raises Unreadable."""
    if numbers.fullmatch(text) is None:
        raise Unreadable(
            say("its {name} has something that is no number: {text}", name=name, text=shorten(text))
        )
    return [float(value) for value in number.findall(text)]


def shorten(text: str, most: int = 24) -> str:
    """A text as one line of at most `most` characters."""
    line = " ".join(text.split())
    return line if len(line) <= most else line[: most - 1] + "…"
