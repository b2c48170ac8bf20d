"""What is wrong with a board before anything is routed."""

from __future__ import annotations

from shapely.geometry import Point

from ..units import TOLERANCE
from .layout import Reason
from .task import Light, Task

#: A light this near to the back sheet counts as on it (mm).
ON_BASE = 0.3


def reasons(task: Task) -> tuple[Reason, ...]:
    """All that is wrong; empty where routing can begin."""
    found = []
    if not task.cells:
        found.append(Reason("no-cell"))
    if not task.lights:
        found.append(Reason("no-light"))
    if task.base.is_empty:
        return (*found, Reason("no-base"))
    sheet = task.base.buffer(ON_BASE)
    for light in task.lights:
        if not sheet.contains(Point(light.at)):
            found.append(Reason("light-off-base", light.at, (light.id,)))
        elif _feet_apart(light) < light.gap - TOLERANCE:
            have = _feet_apart(light)
            found.append(Reason("feet-too-close", light.at, (light.id,), have, light.gap))
    for i, one in enumerate(task.pinned):
        for other in task.pinned[i + 1 :]:
            signs = {one.polarity, other.polarity}
            if signs == {"positive", "negative"} and one.bare.intersects(other.bare):
                at = one.bare.intersection(other.bare).centroid
                found.append(Reason("pins-touch", (at.x, at.y), (one.id, other.id)))
    return tuple(found)


def _feet_apart(light: Light) -> float:
    return float(light.positive.distance(light.negative))
