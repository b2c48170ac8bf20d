"""polarities-touch: plus and minus meet.

The battery would run flat and get warm, and no light would light. Marked where the two were
joined: the cheapest cut between everything that says plus (battery, feet of lights, labels)
and everything that says minus. Where only the battery says so, the place is a guess. Several
places give several findings. Batteries in a row are not supported and show up here.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.circuit import Short
from ..model.finding import Finding

CODE = "polarities-touch"


def check(case: Case) -> Iterator[Finding]:
    """One finding per place."""
    for short in case.circuit.shorts:
        yield Finding(
            CODE,
            "stop",
            short.at,
            _names(case, short),
            *_words(case, short),
        )


def _names(case: Case, short: Short) -> tuple[str, ...]:
    contacts = [case.circuit.contacts[i] for i in short.contacts]
    numbers = dict.fromkeys(n for c in contacts for n in (c.upper, c.lower))
    return tuple(dict.fromkeys(case.circuit.conductors[n].name for n in numbers))


def _words(case: Case, short: Short) -> tuple[str, str]:
    """What is wrong and what to do."""
    contacts = [case.circuit.contacts[i] for i in short.contacts]
    parts = [
        part
        for c in contacts
        for n in (c.upper, c.lower)
        if (part := case.circuit.conductors[n].part) is not None
    ]
    hot = "The battery would run flat and get warm."
    remedy = "Move one strip 3 mm away, or lay a piece of paper tape between."
    if short.cells_in_row:
        text = "Plus of one battery meets minus of another; batteries in a row are not supported."
        remedy = "Turn one battery round so that plus meets plus, or leave one out."
    elif parts:
        text = f"Plus and minus meet at a foot of {case.inner(parts[0])}. {hot}"
        remedy = "Keep the wrong strip 3 mm away from that foot."
    else:
        text = f"Plus and minus tape touch here. {hot}"
    return text + (" (This is my best guess at the place.)" if short.guess else ""), remedy
