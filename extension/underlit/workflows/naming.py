"""Names in a sentence: all of them, or a few and how many more."""

from __future__ import annotations

from collections.abc import Sequence

from ..language import say


def and_more(names: Sequence[object], most: int) -> str:
    """1, 2; or, of more than `most`: 1, 2, 3, 4 and 7 more."""
    shown = ", ".join(str(name) for name in names[:most])
    more = len(names) - most
    return say("{names} and {more} more", names=shown, more=more) if more > 0 else shown
