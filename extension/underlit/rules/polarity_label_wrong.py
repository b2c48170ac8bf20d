"""polarity-label-wrong: a strip says plus but is joined to minus, or says what nobody knows.

The circuit counts, not the label; the printed signs would be wrong.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import say
from ..model.card import Strip
from ..model.case import Case
from ..model.circuit import SIGN
from ..model.finding import Finding
from .wording import SIDE

CODE = "polarity-label-wrong"

#: A label is told up to this many letters.
LONGEST = 20


def check(case: Case) -> Iterator[Finding]:
    """One finding per strip."""
    circuit = case.circuit
    for conductor, number in zip(circuit.conductors, circuit.net_of, strict=True):
        strip, polarity = conductor.strip, circuit.nets[number].polarity
        if strip is not None and strip.unknown_label is not None:
            yield _unknown(strip, strip.unknown_label)
        if strip is None or strip.polarity is None or polarity not in SIGN.values():
            continue
        if strip.polarity != polarity:
            yield Finding(
                CODE,
                "note",
                strip.middle,
                (strip.name,),
                say(
                    "This strip is labelled {side}, but it is joined to the battery's {other} "
                    "side.",
                    side=say(SIDE[strip.polarity]),
                    other=say(SIDE[polarity]),
                ),
                say("Change its label, or join it to the other side."),
            )


def _unknown(strip: Strip, label: str) -> Finding:
    words = label if len(label) <= LONGEST else label[:LONGEST] + "..."
    return Finding(
        CODE,
        "note",
        strip.middle,
        (strip.name,),
        say('This strip is labelled "{label}", which I do not know.', label=words),
        say("Label it positive or negative, or not at all."),
    )
