"""Names for several things of one object."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence


def names_in_order(objects: Sequence[str]) -> list[str]:
    """The object's id, or `id#n` (n from 1, in the order given) where it comes more than once.

    A number is passed over where that is the id of another object: no name comes twice.
    """
    total = Counter(objects)
    seen: Counter[str] = Counter()
    names = []
    for name in objects:
        own = name
        while own in total and total[name] > 1:
            seen[name] += 1
            own = f"{name}#{seen[name]}"
        names.append(own)
    return names
