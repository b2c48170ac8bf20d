"""How many lights: by the opening's length, and never more than the battery feeds."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..profiles import CellType, LightType
from ..units import TOLERANCE

#: One light, and one more for each further stretch of an opening's length (mm).
STRETCH = 25.0

#: kT/q per kelvin (V): Boltzmann constant over elementary charge, exact SI values.
VOLT_PER_KELVIN = 1.380649e-23 / 1.602176634e-19


def length_of(area: BaseGeometry, widest: float) -> float:
    """The length of an opening (mm): the longer of its extent and its run.

    Extent: the longer side of the smallest box round it at any turn. Run: area over width, the
    width being twice its largest inscribed radius `widest`; so the way round a ring counts.
    """
    box = shapely.get_coordinates(shapely.minimum_rotated_rectangle(area))
    sides = np.hypot(*np.diff(box, axis=0).T) if len(box) > 2 else np.zeros(1)
    run = area.area / (2.0 * widest) if widest > 0.0 else 0.0
    return max(float(sides.max()), float(run))


def count_by_length(length: float) -> int:
    """One light up to 50 mm, two from 50 mm, three from 75 mm and so on."""
    return max(1, math.floor((length + TOLERANCE) / STRETCH))


def share_out(lengths: Sequence[float], most: int | None) -> list[int]:
    """Lights for openings of these lengths, `most` in all (None: no limit).

    First one each, in order; then one at a time to the opening with most length per light.
    """
    wanted = [count_by_length(length) for length in lengths]
    if most is None or sum(wanted) <= most:
        return wanted
    given = [1 if i < most else 0 for i in range(len(wanted))]
    for _ in range(max(most, 0) - sum(given)):
        short = [i for i, n in enumerate(given) if 0 < n < wanted[i]]
        if not short:
            break
        given[max(short, key=lambda i: (lengths[i] / given[i], -i))] += 1
    return given


def lights_fed(cell: CellType, light: LightType, least_ma: float) -> int:
    """How many lights of one type side by side a coin battery still feeds after a minute.

    Each gets at least `least_ma`; tape counts as ideal. At that current a light takes the voltage
    V = I R + n kT/q ln(I / Is + 1); the rest of the voltage is lost in the battery's resistance.
    """
    current = least_ma / 1000.0
    thermal = light.ideality * VOLT_PER_KELVIN * (light.temperature_c + 273.15)
    volt = current * (light.series_ohm + light.resistor_ohm)
    volt += thermal * math.log(current / light.saturation_current_a + 1.0)
    volt = max(volt, light.least_volt)
    return max(0, math.floor((cell.volt - volt) / (cell.sustained_ohm * current) + 1e-9))
