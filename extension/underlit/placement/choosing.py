"""Which openings a maker has chosen: by name, number, a place in them, or all."""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely

from ..errors import UnknownChoice
from ..language import decimal, say
from ..model.card import Opening
from ..units import TOLERANCE


def choose(
    openings: Sequence[Opening],
    names: Sequence[str] = (),
    numbers: Sequence[int] = (),
    places: Sequence[tuple[float, float]] = (),
) -> tuple[Opening, ...]:
    """The chosen openings in their order, each once; all of them where nothing is asked for.

    A name is that of an opening, or of an object with several (then all of them). Raises
    UnknownChoice where there is nothing to choose from or a choice is no opening.
    """
    if not openings:
        raise UnknownChoice(
            say("There is no window to light yet: draw the panel and its windows on Die cut first.")
        )
    if not (names or numbers or places):
        return tuple(openings)
    chosen: set[int] = set()
    for name in names:
        chosen |= _by_name(openings, name)
    for number in numbers:
        chosen |= _by_number(openings, number)
    for place in places:
        chosen.add(_by_place(openings, place))
    return tuple(opening for i, opening in enumerate(openings) if i in chosen)


def _by_name(openings: Sequence[Opening], name: str) -> set[int]:
    found = {i for i, o in enumerate(openings) if o.name == name}
    found = found or {i for i, o in enumerate(openings) if o.object == name}
    if not found:
        raise UnknownChoice(
            say("{name} is no window. Click a tinted window (layer Openings).", name=name)
        )
    return found


def _by_number(openings: Sequence[Opening], number: int) -> set[int]:
    found = {i for i, o in enumerate(openings) if o.number == number}
    if not found:
        last = max(o.number for o in openings)
        if last == 1:
            words = say("There is no window {number}; this card has only window 1.", number=number)
        else:
            words = say(
                "There is no window {number}; this card has windows 1 to {last}.",
                number=number,
                last=last,
            )
        raise UnknownChoice(words)
    return found


def _by_place(openings: Sequence[Opening], place: tuple[float, float]) -> int:
    """The smallest opening over a place."""
    point = shapely.Point(place)
    over = shapely.dwithin([o.outline for o in openings], point, TOLERANCE).nonzero()[0].tolist()
    if not over:
        x, y = (decimal(f"{value:g}") for value in place)
        raise UnknownChoice(say("There is no window at {x}, {y} mm.", x=x, y=y))
    return int(min(over, key=lambda i: (openings[i].outline.area, i)))


def read_numbers(text: str) -> tuple[int, ...]:
    """1,4,7-9 -> 1, 4, 7, 8, 9. Raises UnknownChoice for anything else."""
    numbers: list[int] = []
    for part in text.split(","):
        first, dash, last = (word.strip() for word in part.partition("-"))
        ends = (first, last) if dash else (first, first)
        if not all(word.isascii() and word.isdecimal() and len(word) < 7 for word in ends):
            raise UnknownChoice(say("Window numbers look like 1,4,7-9, not {text}.", text=text))
        if int(ends[1]) < int(ends[0]):
            raise UnknownChoice(
                say("Window numbers run upwards, like 7-9, not {text}.", text=part.strip())
            )
        if int(ends[1]) - int(ends[0]) > 9999:
            raise UnknownChoice(
                say("{text} are more windows than a card can have.", text=part.strip())
            )
        numbers += range(int(ends[0]), int(ends[1]) + 1)
    return tuple(dict.fromkeys(numbers))


def read_place(text: str) -> tuple[float, float]:
    """12.5,40 -> a place in page mm. Raises UnknownChoice for anything else."""
    try:
        x, y = (float(word) for word in text.split(","))
    except ValueError:
        x = y = math.nan
    if not (math.isfinite(x) and math.isfinite(y)):
        raise UnknownChoice(say("A place looks like 12.5,40 (mm), not {text}.", text=text))
    return (x, y)


def read_count(text: str) -> int | None:
    """A number of lights per window; None for auto. Raises UnknownChoice for anything else."""
    if text.strip().lower() == "auto":
        return None
    word = text.strip()
    if not (word.isascii() and word.isdecimal() and 1 <= int(word[:9]) <= 200):
        raise UnknownChoice(
            say("The number of lights per window is auto or 1 to 200, not {text}.", text=text)
        )
    return int(word)


def read_turn(text: str) -> str | float:
    """free | 45 | an angle in degrees. Raises UnknownChoice for anything else.

    "45" means multiples of 45 degrees; a light turned by just 45 degrees is asked for as 45.0.
    """
    word = text.strip().lower()
    if word in {"free", "45"}:
        return word
    try:
        angle = float(word)
    except ValueError:
        angle = math.nan
    if not math.isfinite(angle):
        raise UnknownChoice(
            say("The turn is free, 45 or an angle in degrees, not {text}.", text=text)
        )
    return angle % 360.0
