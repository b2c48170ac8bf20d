"""polarities-touch: plus and minus meet.

The battery would run flat and get warm, and no light would light. Marked where the two were
joined: the cheapest cut between everything that says plus (battery, feet of lights, labels)
and everything that says minus. Where only the battery says so, the place is a guess. Several
places give several findings. Batteries in a row are not supported and show up here.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import say
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
    hot = say("The battery would run flat and get warm.")
    remedy = say("Move one strip 3 mm away, or lay a piece of paper tape between.")
    if short.cells_in_row:
        text = say(
            "Plus of one battery meets minus of another; batteries in a row are not supported."
        )
        remedy = say("Turn one battery round so that plus meets plus, or leave one out.")
    elif parts:
        text = say("Plus and minus meet at a foot {of_part}.", of_part=case.of(parts[0]))
        text = f"{text} {hot}"
        remedy = say("Keep the wrong strip 3 mm away from that foot.")
    else:
        text = say("Plus and minus tape touch here.") + f" {hot}"
    if short.guess:
        text = text + " " + say("(This is my best guess at the place.)")
    return text, remedy
