"""Options of the actions: one clear sentence for what cannot be meant."""

from __future__ import annotations

import math
from collections.abc import Callable

from underlit.errors import UnknownChoice
from underlit.language import decimal, say


def one_of(name: str, *words: str) -> Callable[[str], str]:
    """Reader of an option that is one of some words."""

    def read(text: str) -> str:
        if text not in words:
            raise UnknownChoice(
                say(
                    "{name} is {words} or {last}, not {text}.",
                    name=name,
                    words=", ".join(words[:-1]),
                    last=words[-1],
                    text=text,
                )
            )
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
            words = {
                "name": name,
                "low": decimal(f"{low:g}"),
                "high": decimal(f"{high:g}"),
                "text": text,
            }
            raise UnknownChoice(
                say("{name} is a whole number from {low} to {high}, not {text}.", **words)
                if whole
                else say("{name} is a number from {low} to {high}, not {text}.", **words)
            )
        return int(value) if whole else value

    return read
