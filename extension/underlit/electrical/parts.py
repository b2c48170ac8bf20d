"""Lights as diodes with a resistance in series: current, slope and co-content at a voltage.

I = Is (exp((V - I R) / a) - 1), a = n k T / q. With the Wright omega function w(z), the
solution of w + ln w = z:  I = (a / R) w(ln(Is R / a) + (V + Is R) / a) - Is  (the Lambert W
form of the same, T. C. Banwell and A. Jayakumar, Electronics Letters 36, 2000, from memory).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ..records import record

Floats = NDArray[np.float64]

#: SI, exact since 2019: J/K and C.
BOLTZMANN, CHARGE = 1.380649e-23, 1.602176634e-19

#: No light is without resistance: that of its legs (ohm).
LEAST_OHM = 1e-3

#: Leak beside every diode, as circuit simulators have it (S): no piece hangs in the air.
LEAK = 1e-12


@record
class Diodes:
    """Lights as (l, S) arrays: saturation current (A), n k T / q (V), series resistance (ohm)."""

    saturation: Floats
    slope: Floats
    ohm: Floats

    def state(self, volt: Floats) -> tuple[Floats, Floats, Floats]:
        """Current (A), conductance (S) and co-content (W) at voltages (l, S)."""
        ohm = np.maximum(self.ohm, LEAST_OHM)
        scale = self.slope / ohm
        shift = (volt + self.saturation * ohm) / self.slope
        w = omega(np.log(self.saturation / scale) + shift)
        amps = scale * w - self.saturation + LEAK * volt
        siemens = w / (1.0 + w) / ohm + LEAK
        content = self.slope * scale * (w * w / 2.0 + w)
        return amps, siemens, content + (LEAK * volt / 2.0 - self.saturation) * volt


def omega(z: Floats) -> Floats:
    """Wright omega: w + ln w = z for real z, to rounding (two steps of Fritsch's fourth order)."""
    z = np.maximum(z, -700.0)
    w = np.logaddexp(0.0, z)
    w = np.where(z < -3.0, np.exp(np.minimum(z, 0.0)), w)
    for _ in range(3):
        rest = z - w - np.log(w)
        one = 1.0 + w
        t = one * (one + rest * (2.0 / 3.0))
        w = w * (1.0 + rest / one * (t - rest / 2.0) / (t - rest))
    return np.asarray(w)


def thermal_volt(temperature_c: float) -> float:
    """k T / q in volts."""
    return BOLTZMANN * (temperature_c + 273.15) / CHARGE
