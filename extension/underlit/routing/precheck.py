"""What is wrong with a board before anything is routed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations, product

import shapely
from shapely.affinity import rotate, translate
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from ..units import TOLERANCE
from .landing import OTHER
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
    found += _feet_of_two(task)
    for i, one in enumerate(task.pinned):
        for other in task.pinned[i + 1 :]:
            signs = {one.polarity, other.polarity}
            if signs == {"positive", "negative"} and one.bare.intersects(other.bare):
                at = one.bare.intersection(other.bare).centroid
                found.append(Reason("pins-touch", (at.x, at.y), (one.id, other.id)))
    return tuple(found)


def _feet_of_two(task: Task) -> Iterator[Reason]:
    """A plus and a minus foot of two lights that stay too near however the lights may turn.

    Not asked of lights that turn freely: side by side and turned alike they share their tape.
    """
    for one, other in combinations([li for li in task.lights if li.turn != "free"], 2):
        gap = min(one.gap, other.gap) - TOLERANCE
        if math.dist(one.at, other.at) > _reach(one) + _reach(other) + gap:
            continue
        turns = product(_angles(one), _angles(other))
        nearest = [min(_between(one, a, other, b), key=_length) for a, b in turns]
        widest = max(nearest, key=_length)
        if widest.length < gap:
            ends = [(float(x), float(y)) for x, y in widest.coords]
            middle = widest.interpolate(0.5, normalized=True)
            yield Reason(
                "lights-too-close",
                (middle.x, middle.y),
                (one.id, other.id),
                widest.length,
                min(one.gap, other.gap),
                (ends[0], ends[1]) if widest.length > TOLERANCE else None,
            )


def _between(one: Light, a: float, other: Light, b: float) -> Iterator[shapely.LineString]:
    """Shortest lines between feet of opposite sides of two lights at two angles."""
    for side, opposite in OTHER.items():
        yield shapely.shortest_line(_foot(one, side, a), _foot(other, opposite, b))


def _length(line: shapely.LineString) -> float:
    return float(line.length)


def _foot(light: Light, side: str, angle: float) -> BaseGeometry:
    pad: BaseGeometry = getattr(light, side)
    return translate(rotate(pad, angle, origin=(0.0, 0.0)), *light.at)


def _angles(light: Light) -> tuple[float, ...]:
    """The angles that a light may take (degrees)."""
    return (light.angle,) if light.turn == "locked" else tuple(45.0 * k for k in range(8))


def _reach(light: Light) -> float:
    """How far a light's feet reach from its lens (mm)."""
    feet = shapely.get_coordinates([light.positive, light.negative])
    return max(math.hypot(x, y) for x, y in feet.tolist())


def _feet_apart(light: Light) -> float:
    return float(light.positive.distance(light.negative))
