"""light-off-opening: a light that is behind no window.

The middle of the lens must lie in an opening (or in an uncut area that is meant to glow), for
lights that show through one. A glued piece hides what is under it.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from ..language import joined, say
from ..model.card import Part
from ..model.case import Case
from ..model.finding import Finding
from ..units import TOLERANCE
from .wording import steps

CODE = "light-off-opening"


def check(case: Case) -> Iterator[Finding]:
    """One finding per light."""
    card = case.card
    if not card.panels or case.apart:
        return
    clear = [opening.clear for opening in card.openings]
    tree = shapely.STRtree(clear)
    for light in card.lights:
        if light.attributes.get("shows", "opening") != "opening":
            continue
        point = shapely.points(light.at)
        if not len(tree.query(point, predicate="dwithin", distance=TOLERANCE)):
            yield _finding(case, light, clear)


def _finding(case: Case, light: Part, clear: list[shapely.Geometry]) -> Finding:
    remedy = say('Move it, or mark it as shining through the paper (shows "through").')
    if clear:
        point = shapely.points(light.at)
        nearest = clear[int(np.argmin(shapely.distance(clear, point)))]
        x, y = shapely.shortest_line(point, nearest).coords[-1]
        way = _way(x - light.at[0], y - light.at[1])
        remedy = say("Move it {way} or more, or mark it as shining through the paper.", way=way)
    return Finding(
        CODE,
        "caution",
        light.at,
        (light.id,),
        say("{light} is not behind a window.", light=case.call(light)),
        remedy,
    )


def _way(dx: float, dy: float) -> str:
    """A shift in words: 6 mm left and 2 mm down."""
    return joined(steps(*(by if abs(by) >= 0.1 else 0.0 for by in (dx, dy)))) or say(
        "0.1 mm further in"
    )
