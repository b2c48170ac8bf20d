"""Figures as a maker reads them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..language import and_more, decimal, figure, joined, later, mm, say, say_count, two_digits
from ..profiles import Profile


def against(value: float, limit: float) -> str:
    """A figure with enough decimals to differ from the limit that it misses: 1.96, not 2."""
    for decimals in (1, 2, 3):
        text = figure(value)
        if decimals > 1:
            text = decimal(f"{value:.{decimals}f}".rstrip("0").rstrip("."))
        if text != figure(limit):
            break
    return text


#: More lights or windows than these are not named one by one.
MOST_NAMED = 12


def numbers(found: Sequence[int]) -> str:
    """Numbers of lights or windows: "1, 2 and 3"; of many the first ones."""
    if len(found) > MOST_NAMED:
        return and_more(found, MOST_NAMED)
    return joined([str(number) for number in found])


#: Hours in a year: longer estimates say nothing.
YEAR = 8766.0


def span(low: float, high: float, limit: float | None = None) -> str:
    """A band of hours: "8.9 to 32 hours", "13 to 52 minutes"; more than a year is told as that.

    `limit`: hours that the lower end misses; it then has enough decimals to differ from them.
    """
    if low >= YEAR:
        return say("more than a year")
    if high >= YEAR:
        return say("{hours} to more than a year", hours=_hours(two_digits(low)))
    if high < 1.0 / 60.0:
        return say("less than a minute")
    minutes = high < 1.0
    factor = 60.0 if minutes else 1.0
    first, last = two_digits(factor * low), two_digits(factor * high)
    if limit is not None and not minutes and first == two_digits(limit):
        first = against(low, limit)
    if first == last:
        return _minutes(first) if minutes else _hours(first)
    if minutes:
        return say("{low} to {high} minutes", low=first, high=last)
    return say("{low} to {high} hours", low=first, high=last)


def _hours(time: str) -> str:
    return say_count("{time} hour", "{time} hours", 1 if time == "1" else 2, time=time)


def _minutes(time: str) -> str:
    return say_count("{time} minute", "{time} minutes", 1 if time == "1" else 2, time=time)


def layers(foams: Iterable[str], profile: Profile) -> str:
    """Layers of foam (names in the profile) by their thickness, lowest first: 3 mm + 1.6 mm."""
    return " + ".join(mm(profile.foams[name].thickness) for name in foams)


#: Said with `say`, as all tables of words here.
SIDE = {"positive": later("plus"), "negative": later("minus")}

FOOT = {
    "positive-pad": later("plus foot"),
    "negative-pad": later("minus foot"),
    "contact-1": later("first foot"),
    "contact-2": later("second foot"),
}

#: Features of parts as a maker calls them.
FEATURE = {**FOOT, "lens": later("lens"), "body": later("body")}

#: Types of lights that Underlit brings, before their noun: red lights.
KINDS = {
    "warm-white": later("warm-white"),
    "cool-white": later("cool-white"),
    "red": later("red"),
    "amber": later("amber"),
    "green": later("green"),
    "blue": later("blue"),
    "colour-change": later("colour-changing"),
}


def steps(right: float, down: float) -> list[str]:
    """A shift (mm, negative to the left and up), as "3 mm left" and "2 mm down"; none of 0."""
    found = []
    if right:
        way = mm(abs(right))
        found.append(say("{way} right", way=way) if right > 0.0 else say("{way} left", way=way))
    if down:
        way = mm(abs(down))
        found.append(say("{way} down", way=way) if down > 0.0 else say("{way} up", way=way))
    return found


def kind_words(kinds: Iterable[str]) -> str:
    """Types of lights, those of a maker's own by their name: amber and red."""
    return joined([say(KINDS[kind]) if kind in KINDS else kind for kind in sorted(kinds)])
