"""What a caution about cutting consists of, and the words that all of them share."""

from __future__ import annotations

from ..language import later, say
from ..records import record
from .cut import Piece

#: What a maker calls the sheets: inside a sentence, and at its beginning.
NAMES = {
    "tape": (later("the tape"), later("The tape")),
    "base": (later("the back sheet"), later("The back sheet")),
    "panel": (later("the panel"), later("The panel")),
    "cover": (later("the cover"), later("The cover")),
    "diffuser": (later("the vellum"), later("The vellum")),
    "foam": (later("the foam"), later("The foam")),
    "patches": (later("the patches"), later("The patches")),
    "guides": (later("the guides"), later("The guides")),
}


@record
class Caution:
    """`about`: a word for the report (sheet, mat, piece-too-long, curved, long-shape, feature,
    slot, hole); `pieces` labels; `at` page mm where there is a place."""

    about: str
    pieces: tuple[str, ...]
    at: tuple[float, float] | None
    message: str
    remedy: str


def sheet_name(material: str, other: str) -> str:
    """the panel; `other` where a material has no name of its own."""
    return say(NAMES[material][0]) if material in NAMES else other


def piece_name(piece: Piece) -> str:
    """Strip P1, Shape P1 (of several strips), Piece foam-2, The panel: begins a sentence."""
    if len(piece.strips) == 1:
        return say("Strip {name}", name=piece.label)
    if piece.strips:
        return say("Shape {name}", name=piece.label)
    if piece.label in NAMES:
        return say(NAMES[piece.label][1])
    return say("Piece {name}", name=piece.label)
