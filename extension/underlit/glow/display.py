"""From lux to the pixels of a screen, and back.

The display curve: v = (lux / full) ** EXPONENT, where `full` is the brightest light that comes
through any opening of the card. v is the largest of the three channels of a pixel in linear sRGB
(IEC 61966-2-1); the other two follow the colour of the light. So the largest channel alone gives
the light back: lux = full * linear(channel / 255) ** (1 / EXPONENT).

The exponent stands for an eye used to the dark, which sees small differences of little light
(Stevens' power law has 0.33 to 0.5 for brightness; 0.6 leaves the middle of a light its punch).
"""

from __future__ import annotations

import numpy as np

EXPONENT = 0.6

#: Full light looks paler than its colour, faint light deeper: the exponent of the colour's channels
#: at full light and at none. The largest channel is 1 and stays it.
PALE, DEEP = 0.6, 2.1


def shown(lux: np.ndarray, colour: np.ndarray, full: float) -> np.ndarray:
    """(..., 3) linear sRGB of light (...,) in a colour (..., 3) whose largest channel is 1."""
    value = np.clip(lux / full, 0.0, 1.0) ** EXPONENT
    depth = DEEP + (PALE - DEEP) * value
    result: np.ndarray = value[..., None] * colour ** depth[..., None]
    return result


def lux_of(pixels: np.ndarray, full: float) -> np.ndarray:
    """(...,) lux that pixels (..., 3) of 0..255 stand for."""
    value = to_linear(np.asarray(pixels, dtype=float).max(axis=-1) / 255.0)
    result: np.ndarray = full * value ** (1.0 / EXPONENT)
    return result


def to_srgb(linear: np.ndarray) -> np.ndarray:
    """Linear sRGB in 0..1 -> coded sRGB in 0..1."""
    low = linear * 12.92
    high = 1.055 * np.clip(linear, 0.0031308, 1.0) ** (1.0 / 2.4) - 0.055
    return np.where(linear <= 0.0031308, low, high)


def to_linear(coded: np.ndarray) -> np.ndarray:
    """Coded sRGB in 0..1 -> linear sRGB in 0..1."""
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)
