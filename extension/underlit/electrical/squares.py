"""Closed forms for thin sheets, in squares: ohms divided by ohms per square.

Sources: conformal maps, derived anew; see each function.
"""

from __future__ import annotations

from math import pi

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

EULER = 0.5772156649015329


def corner_squares(turn: Floats) -> Floats:
    """Squares of a mitred corner between two runs of one width, runs measured from its inner edge.

    `turn` (radians, 0 to below pi) is by how much the strip changes its way. By symmetry the
    mitre line is an equipotential; mapping one half to a half plane (Schwarz-Christoffel) gives
    (2 / pi) (2 ln 2 + gamma + digamma(1/2 + turn / 2 pi)); for a right angle that is
    1 - (2 / pi) ln 2 = 0.5587 (P. M. Hall, Thin Solid Films 1, 1967, from memory).
    """
    inner = 2.0 * np.log(2.0) + EULER + digamma(0.5 + np.asarray(turn) / (2.0 * pi))
    return np.asarray(2.0 / pi * inner)


def arc_share(bend: Floats) -> Floats:
    """Resistance of a curved strip over that of a straight one as long as its centre line.

    `bend` is width over radius of the centre line (0 to below 2). A ring between r1 and r2 has
    angle / ln(r2 / r1) squares, exactly.
    """
    half = np.maximum(np.asarray(bend) / 2.0, 1e-6)
    return np.asarray(half / np.arctanh(half))


def digamma(x: Floats) -> Floats:
    """Digamma for x > 0: recurrence to x > 6, then its asymptotic series (to 1e-10)."""
    x = np.array(x, dtype=float)
    below = np.zeros_like(x)
    for _ in range(6):
        below -= 1.0 / x
        x = x + 1.0
    y = 1.0 / (x * x)
    series = y * (1 / 12 - y * (1 / 120 - y * (1 / 252 - y * (1 / 240 - y / 132))))
    return np.asarray(below + np.log(x) - 0.5 / x - series)
