"""Paper: its sizes, and how much of it is left for drawing."""

from __future__ import annotations

import re

from ..errors import UnknownChoice
from ..language import decimal, say
from ..records import record

#: ISO 216 and the North American sizes (mm, upright).
SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4), "a3": (297.0, 420.0)}

#: Paper of one's own must hold a strip of the tiling beside both check rules (mm, upright).
SMALLEST = (190.0, 240.0)
LARGEST = 2000.0

#: No printer reaches nearer to the edge (mm).
MARGIN = 12.0


@record
class Paper:
    """An upright sheet of paper; `name` as a maker says it."""

    name: str
    width: float
    height: float


def read_paper(text: str) -> Paper:
    """a4, letter, a3, or a size as 210x297. Raises UnknownChoice."""
    word = text.strip().lower()
    if word in SIZES:
        return Paper(word.upper() if word[0] == "a" else word.capitalize(), *SIZES[word])
    found = re.fullmatch(r"(\d{1,5}(?:\.\d+)?)\s*x\s*(\d{1,5}(?:\.\d+)?)(?:\s*mm)?", word)
    if found is None:
        raise UnknownChoice(
            say("--paper is a4, letter, a3 or a size like 210x297, not {text}.", text=text)
        )
    width, height = sorted((float(found[1]), float(found[2])))
    size = _size(width, height)
    if width < SMALLEST[0] or height < SMALLEST[1]:
        raise UnknownChoice(
            say("Paper of {size} is too small to print one strip of a card with its check rules: "
                "it must be at least {least}.", size=size, least=_size(*SMALLEST))
        )  # fmt: skip
    if height > LARGEST:
        raise UnknownChoice(say("Paper of {size} is no paper for a printer.", size=size))
    return Paper(size, width, height)


def _size(width: float, height: float) -> str:
    return say("{wide} x {high} mm", wide=decimal(f"{width:g}"), high=decimal(f"{height:g}"))
