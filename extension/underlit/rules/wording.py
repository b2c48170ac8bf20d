"""Figures as a maker reads them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import floor, log10

from ..profiles import Profile


def mm(length: float) -> str:
    """1.3 -> "1.3 mm", 4.0 -> "4 mm", 0.04 -> "0.04 mm"."""
    return f"{figure(length)} mm"


def figure(value: float) -> str:
    """One decimal, two for small values, no trailing zero."""
    text = f"{value:.1f}" if abs(value) >= 0.1 else f"{value:.2f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in {"", "-0"} else text


def two_digits(value: float) -> str:
    """An estimate in two digits: 0.31, 1.3, 14, 1200."""
    if abs(value) < 0.005:
        return "0"
    digits = 1 - floor(log10(abs(value)))
    rounded = round(value, digits)
    return f"{rounded:.{digits}f}".rstrip("0").rstrip(".") if digits > 0 else f"{rounded:.0f}"


def against(value: float, limit: float) -> str:
    """A figure with enough decimals to differ from the limit that it misses: 1.96, not 2."""
    for decimals in (1, 2, 3):
        text = figure(value) if decimals == 1 else f"{value:.{decimals}f}".rstrip("0").rstrip(".")
        if text != figure(limit):
            break
    return text


#: Hours in a year: longer estimates say nothing.
YEAR = 8766.0


def span(low: float, high: float, limit: float | None = None) -> str:
    """A band of hours: "8.9 to 32 hours", "13 to 52 minutes"; more than a year is told as that.

    `limit`: hours that the lower end misses; it then has enough decimals to differ from them.
    """
    if low >= YEAR:
        return "more than a year"
    if high >= YEAR:
        return f"{two_digits(low)} hours to more than a year"
    if high < 1.0 / 60.0:
        return "less than a minute"
    factor, unit = (60.0, "minutes") if high < 1.0 else (1.0, "hours")
    first, last = two_digits(factor * low), two_digits(factor * high)
    if limit is not None and unit == "hours" and first == two_digits(limit):
        first = against(low, limit)
    return f"{first} to {last} {unit}" if first != last else f"{first} {unit}"


def layers(foams: Iterable[str], profile: Profile) -> str:
    """Layers of foam (names in the profile) by their thickness, lowest first: 3 mm + 1.6 mm."""
    return " + ".join(mm(profile.foams[name].thickness) for name in foams)


def count(number: int, one: str, many: str) -> str:
    """1 strip, 3 strips."""
    return f"{number} {one if number == 1 else many}"


def joined(words: Sequence[str]) -> str:
    """red; red and amber; red, amber and blue."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


SIDE = {"positive": "plus", "negative": "minus"}

FOOT = {
    "positive-pad": "plus foot",
    "negative-pad": "minus foot",
    "contact-1": "first foot",
    "contact-2": "second foot",
}
