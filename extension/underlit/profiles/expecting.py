"""What a key of a profile takes, in words."""

from __future__ import annotations

from ..language import later, say
from .schema import Key

#: What a key of figures takes, without a unit and with one.
FIGURES = {
    "number": (later("a number"), later("a number in {unit}")),
    "pair": (later("two numbers"), later("two numbers in {unit}")),
    "numbers": (later("one or more numbers"), later("one or more numbers in {unit}")),
}

#: Those that stand in square brackets.
COUNTS = frozenset({"pair", "numbers"})


def expected(key: Key) -> str:
    """What a key takes, in words: "a number in mm, more than 0 and at most 50"."""
    if key.kind == "switch":
        return say("true or false")
    if key.kind == "word":
        return say("one of {words}", words=", ".join(f'"{word}"' for word in key.words))
    if key.kind == "colour":
        return say('a colour like "#ffe2b0"')
    if key.kind == "text":
        return say("a text in quotes")
    bare, measured = FIGURES[key.kind]
    figures = say(measured, unit=say(key.unit)) if key.unit else say(bare)
    return say(_bounds(key), figures=figures, low=f"{key.low:g}", high=f"{key.high:g}")


def _bounds(key: Key) -> str:
    """A range, as a text to be said. Its figures stay as they are written in a profile."""
    if key.kind in COUNTS:
        if key.open:
            return later("{figures} in square brackets, each more than {low} and at most {high}")
        return later("{figures} in square brackets, each from {low} to {high}")
    if key.open:
        return later("{figures}, more than {low} and at most {high}")
    return later("{figures}, from {low} to {high}")
