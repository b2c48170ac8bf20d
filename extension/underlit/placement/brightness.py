"""How bright a light makes a place on the panel's plane.

Stand-alone, so that placing needs nothing of the glow: any function from places of lights and
places on the panel to illuminance will do. Convention (physical, with the cosine of incidence; the
Lambertian order from the full angle at half intensity): E = I0 z^(m+1) / (z^2 + x^2)^((m+3)/2),
m = -ln 2 / ln cos(angle / 2); for 120 degrees the cos^4 law.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

#: (n, 2) places of lenses, (m, 2) places on the panel -> (m, n) illuminance, any unit.
Illuminance = Callable[["Floats", "Floats"], "Floats"]


def lambertian(depth: float, beam_angle: float = 120.0) -> Illuminance:
    """Illuminance per candela on axis (lx) at `depth` mm above the lenses.

    `beam_angle` is the full angle at half intensity (degrees). Source: IES, E = I cos / d^2;
    Lambertian order as in Moreno et al., Appl. Opt. 45, 2265 (2006), from memory.
    """
    order = -math.log(2.0) / math.log(math.cos(math.radians(beam_angle / 2.0)))
    z = depth / 1000.0

    def illuminance(lenses: Floats, places: Floats) -> Floats:
        apart = (places[:, None, :] - lenses[None, :, :]) / 1000.0
        square = z * z + np.einsum("mnk,mnk->mn", apart, apart)
        return np.asarray(z ** (order + 1.0) * square ** (-(order + 3.0) / 2.0))

    return illuminance
