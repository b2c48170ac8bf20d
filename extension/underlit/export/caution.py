"""What a caution about cutting consists of, and the words that all of them share."""

from __future__ import annotations

from ..records import record
from .cut import Piece

#: What a maker calls the sheets.
NAMES = {
    "tape": "the tape",
    "base": "the back sheet",
    "panel": "the panel",
    "cover": "the cover",
    "diffuser": "the vellum",
    "foam": "the foam",
    "patches": "the patches",
    "guides": "the guides",
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


def piece_name(piece: Piece) -> str:
    """Strip P1, Shape P1 (of several strips), Piece foam-2, The panel."""
    if piece.strips:
        return f"{'Strip' if len(piece.strips) == 1 else 'Shape'} {piece.label}"
    name = NAMES.get(piece.label)
    return f"{name[0].upper()}{name[1:]}" if name else f"Piece {piece.label}"


def figure(value: float, decimals: int = 1) -> str:
    """So many decimals at most, no trailing zero."""
    return f"{value:.{decimals}f}".rstrip("0").rstrip(".")
