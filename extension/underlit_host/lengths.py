"""Lengths and numbers of SVG attributes, in user units (CSS px of the place where they stand).

Sources: SVG 1.1 7.10 (units), 4.2 (number grammar). Font-relative units are not read: what they
come to depends on fonts.
"""

from __future__ import annotations

import math
import re

from underlit.units import MM_PER_PX, MM_PER_UNIT

#: One number of the SVG grammar; possessive, so that a wrong text fails at once.
NUMBER = r"(?>[+-]?(?>[0-9]++(?:\.[0-9]*+)?|\.[0-9]++)(?:[eE][+-]?[0-9]++)?)"
GAP = r"(?>[ \t\r\n]*+,?[ \t\r\n]*+)"

_LENGTH = re.compile(rf"\s*({NUMBER})\s*([a-zA-Z%]*)\s*")
_NUMBER = re.compile(NUMBER)
_LIST = re.compile(rf"\s*(?:{NUMBER}(?:{GAP}{NUMBER})*+)?+\s*")

_PX = {unit: mm / MM_PER_PX for unit, mm in MM_PER_UNIT.items()}


class Unreadable(Exception):
    """Something of an object cannot be read; the text is a short clause that says what."""


def read_length(text: str, whole: float, name: str = "size") -> float:
    """A length in user units; per cent are of `whole`. Raises Unreadable."""
    found = _LENGTH.fullmatch(text)
    if found is not None:
        number, unit = float(found[1]), found[2].lower()
        factor = whole / 100.0 if unit == "%" else _PX.get(unit)
        if factor is not None and math.isfinite(number):
            return number * factor
    raise Unreadable(f"its {name} is {shorten(text)}")


def read_numbers(text: str, name: str) -> list[float]:
    """A list of numbers apart by blanks or commas. Raises Unreadable."""
    if _LIST.fullmatch(text) is None:
        raise Unreadable(f"its {name} has something that is no number: {shorten(text)}")
    return [float(number) for number in _NUMBER.findall(text)]


def shorten(text: str, most: int = 24) -> str:
    """A text as one line of at most `most` characters."""
    line = " ".join(text.split())
    return line if len(line) <= most else line[: most - 1] + "…"
