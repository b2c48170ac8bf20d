"""Words of a refusal: file, key, what must be and what came, each cut to a readable length."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ..errors import UnusableProfile


def refuse(label: str, text: str) -> UnusableProfile:
    """The error to raise: `label` is the file, or what stands for it."""
    return UnusableProfile(f"{label}: {text}")


def near_miss(word: str, known: Iterable[str]) -> str:
    """` (did you mean "x"?)`, or nothing where no known word is near."""
    import difflib  # late: only a maker's slip needs it

    near = difflib.get_close_matches(word.lower().replace("_", "-"), list(known), 1, 0.6)
    return f' (did you mean "{cut(near[0])}"?)' if near else ""


def shown(value: object) -> str:
    """A value as its maker may have written it, cut short."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and abs(value) > 10**15:
        return "a number far too large"
    if isinstance(value, Mapping):
        return "a table"
    return f'"{cut(value)}"' if isinstance(value, str) else cut(_plain(value))


def cut(text: str) -> str:
    """On one line, at most 40 characters."""
    line = "".join(c if c.isprintable() else " " for c in text[:60])
    return line if len(line) <= 40 else line[:37] + "..."


def listed(names: Iterable[str]) -> str:
    """The first of some names, in words."""
    few = [cut(name) for name in names]
    return ", ".join(few[:10]) + (" and others" if len(few) > 10 else "")


def _plain(value: object) -> str:
    if isinstance(value, list | tuple):
        return "[" + ", ".join(shown(item) for item in value[:9]) + "]"
    return "nothing" if value is None else str(value)
