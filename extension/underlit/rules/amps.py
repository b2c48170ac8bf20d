"""Currents as a maker reads them: words before figures."""

from __future__ import annotations

from collections.abc import Iterable

from ..language import say, two_digits
from ..model.case import LIT
from .wording import against


def ma(amps: float) -> str:
    """Milliamperes in two digits: 0.31, 1.3, 14."""
    return two_digits(1e3 * amps)


def ma_against(amps: float, limit_ma: float) -> str:
    """The same with enough digits to differ from the limit that it misses."""
    text = ma(amps)
    return against(1e3 * amps, limit_ma) if text == two_digits(limit_ma) else text


def ma_span(amps: Iterable[float]) -> str:
    """Several currents: "1.1 to 1.3 mA", "1.2 mA"."""
    found = sorted(amps)
    low, high = ma(found[0]), ma(found[-1])
    return f"{low} mA" if low == high else say("{low} to {high} mA", low=low, high=high)


def glow_word(amps: float, least_ma: float) -> str:
    """Which word says it, words before figures: dark | faint | fine | bright."""
    if amps <= LIT:
        return "dark"
    if amps < 1e-3 * least_ma:
        return "faint"
    return "fine" if amps < 5e-3 else "bright"
