"""A small square to try knife and pressure on before the card: `test-cut`."""

from __future__ import annotations

import shapely

from .cut import Piece

#: The square, and how far inside it things stand (mm).
SIDE, RIM = 50.0, 5.0

#: Gaps of the ladder; size of its bars (mm).
GAPS = (1.0, 2.0, 3.0)
BAR = (5.0, 12.0)

#: The strip is no wider than there is room for (mm).
WIDEST = 12.0


def trial_pieces(tape_width: float, light: tuple[float, float] | None) -> list[Piece]:
    """One strip, bars 1, 2 and 3 mm apart, one light's outline, all in a square of 50 mm.

    `light` is length and width of a light's body (None, or too large: left out).
    """
    width = min(tape_width, WIDEST)
    pieces = [Piece("strip", shapely.box(RIM, RIM, SIDE - RIM, RIM + width))]
    top, left = RIM + width + 3.0, RIM
    for n, gap in enumerate((0.0, *GAPS), 1):
        left += gap
        pieces.append(Piece(f"bar-{n}", shapely.box(left, top, left + BAR[0], top + BAR[1])))
        left += BAR[0]
    low = top + BAR[1] + 3.0
    if light is not None and light[0] <= SIDE - 2.0 * RIM and low + light[1] <= SIDE - 2.0:
        pieces.append(Piece("light", shapely.box(RIM, low, RIM + light[0], low + light[1])))
    return [*pieces, Piece("square", shapely.box(0.0, 0.0, SIDE, SIDE))]
