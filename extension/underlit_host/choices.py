"""Options of the actions: one clear sentence for what cannot be meant."""

from __future__ import annotations

import math
from collections.abc import Callable

from underlit.errors import UnknownChoice


def one_of(name: str, *words: str) -> Callable[[str], str]:
    """Reader of an option that is one of some words."""

    def read(text: str) -> str:
        if text not in words:
            known = f"{', '.join(words[:-1])} or {words[-1]}"
            raise UnknownChoice(f"{name} is {known}, not {text}.")
        return text

    return read


def number(
    name: str, low: float, high: float, *, whole: bool = False
) -> Callable[[str], float | int | None]:
    """Reader of an option that is a number within limits; empty: not given."""

    def read(text: str) -> float | int | None:
        if not text.strip():
            return None
        try:
            value = float(text)
        except ValueError:
            value = math.nan
        if not low <= value <= high or (whole and value != int(value)):
            kind = "a whole number" if whole else "a number"
            raise UnknownChoice(f"{name} is {kind} from {low:g} to {high:g}, not {text}.")
        return int(value) if whole else value

    return read
