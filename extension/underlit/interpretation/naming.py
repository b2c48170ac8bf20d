"""Names for several things of one object."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence


def names_in_order(objects: Sequence[str]) -> list[str]:
    """The object's id, or `id#n` (n from 1, in the order given) where it comes more than once."""
    total = Counter(objects)
    seen: Counter[str] = Counter()
    names = []
    for name in objects:
        seen[name] += 1
        names.append(f"{name}#{seen[name]}" if total[name] > 1 else name)
    return names
