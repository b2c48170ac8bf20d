"""width-not-in-stock: tape of a width that you do not have.

Strips of one width all along are held against `stock-widths` of the tape (0.05 mm passes).
Filled shapes of changing width are cut from sheet and not judged.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import decimal, listed, say, say_count
from ..model.card import Strip
from ..model.case import Case
from ..model.finding import Finding

CODE = "width-not-in-stock"

#: What passes (mm).
ALLOWED = 0.05

#: A strip of even width shrinks to a band this wide along its whole length (mm).
CORE = 0.2


def check(case: Case) -> Iterator[Finding]:
    """One finding per width."""
    stock = case.profile.tape.stock_widths
    odd: dict[float, list[Strip]] = {}
    for strip in case.card.strips:
        if all(abs(strip.width - w) > ALLOWED for w in stock) and is_even(strip):
            odd.setdefault(round(strip.width, 2), []).append(strip)
    for width, strips in sorted(odd.items()):
        yield Finding(
            CODE,
            "note",
            strips[0].middle,
            tuple(strip.name for strip in strips),
            say_count(
                "{number} strip is {width} mm wide; you have {stock}.",
                "{number} strips are {width} mm wide; you have {stock}.",
                len(strips),
                width=decimal(f"{width:g}"),
                stock=listed([decimal(f"{w:g}") for w in stock]),
            ),
            say("Use a width that you have, or cut from sheet."),
        )


def is_even(strip: Strip) -> bool:
    """Whether a strip is as wide all along as at its widest place."""
    if strip.stroked:
        return True
    core = strip.geometry.buffer(CORE / 2.0 - strip.width / 2.0, join_style="mitre")
    return bool(core.area >= 0.8 * CORE * max(strip.length - strip.width, 0.0))
