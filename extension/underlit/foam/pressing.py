"""How a press will feel: an estimate from the free paper over the battery.

The panel over the spot is taken as a round plate held at the foam's edge, pressed in its middle
until it meets the battery: w/t + 0.2 (w/t)^3 = 0.217 P a^2 / (E t^4), the plate being free to move
inwards (Timoshenko, Theory of Plates and Shells, large deflections; from memory). E of card is
about 3 GPa (from memory). Windows, the give of the foam and glue are left out: a rough estimate.
"""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from ..records import record

#: Stiffness of card (N/mm2); from memory, 2 to 5 GPa.
CARD = 3000.0

#: Constants of the plate; see above.
CUBIC, LOAD = 0.2, 0.217

#: A press is soft up to the first, firm up to the second force (N); proposed, so that a ring of
#: 25 mm inside, which common practice does not find stiff, is soft on plain card.
SOFT, FIRM = 3.0, 6.0


@record
class Press:
    """`free` is the diameter of free panel round the spot (mm), `force` in N, `feel` soft | firm |
    too stiff."""

    free: float
    travel: float
    force: float
    feel: str


def press_of(
    spot: BaseGeometry, foam: BaseGeometry, travel: float, thickness: float
) -> Press | None:
    """The press on the middle of a spot; None where there is no foam to bend against.

    `travel` is how far the panel goes down until it meets the battery, `thickness` that of the
    panel (mm).
    """
    if foam.is_empty:
        return None
    radius = float(shapely.distance(shapely.centroid(spot), foam))
    if radius <= 0.0:
        return Press(0.0, travel, float("inf"), "too stiff")
    w = travel / thickness
    force = (w + CUBIC * w**3) * CARD * thickness**4 / (LOAD * radius**2)
    return Press(2.0 * radius, travel, force, feel_of(force))


def feel_of(force: float) -> str:
    """The word for a force (N)."""
    if force <= SOFT:
        return "soft"
    return "firm" if force <= FIRM else "too stiff"
