"""Figures and lists of words as a maker reads them."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor, log10

from .saying import say


def decimal(text: str) -> str:
    """A written number with the language's own decimal sign: that of its "1.5"."""
    return text.replace(".", say("1.5")[1])


def thousands(number: int) -> str:
    """A large number with a mark after each thousand: 500,000."""
    return f"{number:,}".replace(",", say("1,000")[1])


def mm(length: float) -> str:
    """1.3 -> "1.3 mm", 4.0 -> "4 mm", 0.04 -> "0.04 mm"."""
    return f"{figure(length)} mm"


def figure(value: float) -> str:
    """One decimal, two for small values, no trailing zero."""
    return decimal(_trimmed(f"{value:.1f}" if abs(value) >= 0.1 else f"{value:.2f}"))


def hundredths(value: float) -> str:
    """Two decimals at most, no trailing zero."""
    return decimal(_trimmed(f"{value:.2f}"))


def two_digits(value: float) -> str:
    """An estimate in two digits: 0.31, 1.3, 14, 1200."""
    if abs(value) < 0.005:
        return "0"
    digits = 1 - floor(log10(abs(value)))
    rounded = round(value, digits)
    return decimal(_trimmed(f"{rounded:.{max(digits, 0)}f}"))


def _trimmed(number: str) -> str:
    number = number.rstrip("0").rstrip(".") if "." in number else number
    return "0" if number in {"", "-0"} else number


def listed(figures: Sequence[str]) -> str:
    """Figures in a row: 3, 5, 6.35; with another mark where the comma is the decimal sign."""
    return say("1, 2")[1:-1].join(figures)


def begun(text: str) -> str:
    """A phrase as the beginning of a sentence: the battery -> The battery."""
    return text[:1].upper() + text[1:]


def inside(text: str) -> str:
    """A sentence that begins with its verb, inside another one: Use foil -> use foil."""
    return text[:1].lower() + text[1:]


def joined(words: Sequence[str]) -> str:
    """red; red and amber; red, amber and blue; "" of none."""
    if len(words) < 2:
        return "".join(words)
    return say("{first} and {last}", first=", ".join(words[:-1]), last=words[-1])


def and_more(names: Sequence[object], most: int) -> str:
    """1, 2, 3; of at least two more than `most`: 1, 2, 3 and 7 more. One more is named."""
    more = len(names) - most
    if more < 2:
        return ", ".join(str(name) for name in names)
    shown = ", ".join(str(name) for name in names[:most])
    return say("{names} and {more} more", names=shown, more=more)
