"""What is wrong with a board before anything is routed."""

from __future__ import annotations

from .task import Task


def reasons(task: Task) -> tuple[str, ...]:
    """One sentence each; empty where routing can begin."""
    found = []
    if not task.cells:
        found.append("There is no battery on the card.")
    if not task.lights:
        found.append("There is no light on the card.")
    if task.base.is_empty:
        found.append("There is no back sheet to lay tape on.")
        return tuple(found)
    for light in task.lights:
        x, y = light.at
        if not task.base.buffer(0.3).contains(_point(x, y)):
            found.append(f"Light {light.id} lies beyond the back sheet.")
        if light.positive.distance(light.negative) < light.gap - 0.01:
            found.append(f"The feet of light {light.id} are closer than tape and gap allow.")
    for i, one in enumerate(task.pinned):
        for other in task.pinned[i + 1 :]:
            signs = {one.polarity, other.polarity}
            if signs == {"positive", "negative"} and one.area.intersects(other.area):
                found.append(f"Your strips {one.id} and {other.id} are plus and minus and touch.")
    return tuple(found)


def _point(x: float, y: float) -> object:
    from shapely.geometry import Point

    return Point(x, y)
