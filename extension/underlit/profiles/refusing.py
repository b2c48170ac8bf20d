"""Words of a refusal: file, key, what must be and what came, each cut to a readable length."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from ..errors import UnusableProfile
from ..language import later, say


def refuse(label: str, text: str) -> UnusableProfile:
    """The error to raise: `label` is the file, or what stands for it."""
    return UnusableProfile(f"{label}: {text}")


def near_miss(word: str, known: Iterable[str]) -> str:
    """` (did you mean "x"?)`, or nothing where no known word is near."""
    import difflib  # late: only a maker's slip needs it

    near = difflib.get_close_matches(word.lower().replace("_", "-"), list(known), 1, 0.6)
    return say(' (did you mean "{near}"?)', near=cut(near[0])) if near else ""


def shown(value: object) -> str:
    """A value as its maker may have written it, cut short."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and abs(value) > 10**15:
        return say("a number far too large")
    if isinstance(value, Mapping):
        return say("a table")
    return f'"{cut(value)}"' if isinstance(value, str) else cut(_plain(value))


#: What the reader of TOML says of the slips that are made most.
SLIPS = (
    later("Cannot overwrite a value"),
    later("Expected '=' after a key in a key/value pair"),
    later("Expected ']' at the end of a table declaration"),
    later("Expected newline or end of document after a statement"),
    later("Illegal character '\\n'"),
    later("Invalid statement"),
    later("Invalid value"),
    later("Unclosed array"),
    later("Unterminated string"),
)

#: Where it says that they are.
PLACE = re.compile(r"(.+) \(at (?:line (\d+), column (\d+)|[a-z ]+)\)")


def reading_fault(error: Exception) -> str:
    """What the reader of TOML found, in the maker's language as far as that is known."""
    if isinstance(error, RecursionError):
        return say("too many brackets inside each other")
    found = PLACE.fullmatch(str(error))
    if found is None:  # only whole numbers of thousands of digits have no place
        return say("a number far too large")
    reason, line, column = found.groups()
    if line is None:
        return say("{reason} (at end of document)", reason=say(reason))
    place = {"line": line, "column": column}
    return say("{reason} (at line {line}, column {column})", reason=say(reason), **place)


def cut(text: str) -> str:
    """On one line, at most 40 characters."""
    line = "".join(c if c.isprintable() else " " for c in text[:60])
    return line if len(line) <= 40 else line[:37] + "..."


def listed(names: Iterable[str]) -> str:
    """The first of some names, in words."""
    few = [cut(name) for name in names]
    first = ", ".join(few[:10])
    return say("{names} and others", names=first) if len(few) > 10 else first


def _plain(value: object) -> str:
    if isinstance(value, list | tuple):
        return "[" + ", ".join(shown(item) for item in value[:9]) + "]"
    return say("nothing") if value is None else str(value)
