"""The front at true size, to cut it by hand, and the mark of the spot to press."""

from __future__ import annotations

import shapely

from . import look
from .closing import hand_of
from .content import Disc, Item
from .drawing import Fit, line, outline
from .labels import Labels
from .scene import Scene

#: The spot to press is marked by a ring of this radius (mm of the card).
RING = 10.0


def press_mark(scene: Scene, fit: Fit) -> list[Item]:
    """Two rings on the spot where a hand lights the card; nothing where there is no such spot."""
    hand = hand_of(scene)
    if hand is None or hand.spot is None:
        return []
    at, radius = fit.point(hand.spot), RING * fit.scale
    return [
        Disc(at, max(2.0, radius), None, look.ALARM, 0.5),
        Disc(at, max(0.8, 0.35 * radius), look.ALARM),
    ]


def front_lines(scene: Scene, fit: Fit, labels: Labels) -> list[Item]:
    """Lines to cut (solid), areas that only shine through (dashed), numbers, the spot to press."""
    items = outline(scene.front, fit, 0.25, look.INK)
    items += outline(scene.through, fit, 0.2, look.GREY, (1.6, 1.0))
    items += line(scene.scores, fit, 0.15, look.GREY, (0.6, 0.6))
    items += _pressed(scene, fit)
    for number, window in scene.windows:
        middle = shapely.maximum_inscribed_circle(window, tolerance=0.2).coords[0]
        items += labels.put(str(number), fit.point((middle[0], middle[1])), 2.4, look.GREY,
                            bold=False)  # fmt: skip
    return items


def _pressed(scene: Scene, fit: Fit) -> list[Item]:
    """The spot to press in thin lines, since they come to lie on the front itself."""
    hand = hand_of(scene)
    if hand is None or hand.spot is None:
        return []
    at = fit.point(hand.spot)
    return [
        Disc(at, RING * fit.scale, None, look.ALARM, 0.25),
        Disc(at, 0.8, look.ALARM),
    ]
