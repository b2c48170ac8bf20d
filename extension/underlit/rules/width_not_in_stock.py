"""width-not-in-stock: tape of a width that you do not have.

Strips drawn as lines are held against `stock-widths` of the tape (0.05 mm passes). Filled
shapes are cut from sheet and not judged.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from ..model.card import Strip
from ..model.case import Case
from ..model.finding import Finding
from .wording import count

CODE = "width-not-in-stock"

#: What passes (mm).
ALLOWED = 0.05


def check(case: Case) -> Iterator[Finding]:
    """One finding per width."""
    stock = case.profile.tape.stock_widths
    odd: dict[float, list[Strip]] = {}
    for strip in case.card.strips:
        if strip.stroked and all(abs(strip.width - w) > ALLOWED for w in stock):
            odd.setdefault(round(strip.width, 2), []).append(strip)
    for width, strips in sorted(odd.items()):
        at = shapely.point_on_surface(strips[0].geometry)
        yield Finding(
            CODE,
            "note",
            (at.x, at.y),
            tuple(strip.name for strip in strips),
            f"{count(len(strips), 'strip is', 'strips are')} {width:g} mm wide; "
            f"you have {', '.join(f'{w:g}' for w in stock)}.",
            "Use a width that you have, or cut from sheet.",
        )
