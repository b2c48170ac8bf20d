"""Where foam may lie, and which part of the panel it has to support. Page mm.

Foam is kept out of the way of light, off windows, parts, folds, flaps and the spot to press.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from ..connectivity.folding import flaps_of
from ..model.card import Card, Opening, Part
from ..profiles import Profile
from ..records import record
from ..stack import height_of, settled

#: Free on each side (mm); common practice, no source.
INSIDE = 4.0  # foam to the edge of panel or back sheet: it stays hidden and out of the glue line
BESIDE_WINDOW = 3.0  # a window shows what lies just beside it when it is looked at askew
BESIDE_PART = 1.0
BESIDE_MOVING = 5.0  # a slider or switch has to be reached
BESIDE_FOLD = 2.0
BESIDE_TAPE = 1.0
BESIDE_FOAM = 2.0  # two pieces of foam: room for a knife, and for air when the card is pressed

#: A circle of so many segments a quarter lies inside the true one by this factor.
QUARTER = 32
SHORT = math.cos(math.pi / (4 * QUARTER))

#: The spot to press is at least this wide (mm, `press.ring-inside-min` can only make it larger).
PRESS_LEAST = 25.0


@record
class Ground:
    """`free` takes foam; `panel` is what has to be supported (solid paper over the back sheet).

    `kept` is foam that is there already and counts. `spots` are the places to press, which are
    meant to give: they are no part of `panel`. `outline` is where panel and back sheet overlap,
    flaps open.
    """

    free: BaseGeometry
    panel: BaseGeometry
    kept: BaseGeometry
    spots: tuple[BaseGeometry, ...]
    outline: BaseGeometry


def ground_of(card: Card, profile: Profile, spacer: float, off_tape: bool) -> Ground:
    """The ground for foam that is `spacer` mm thick in all (unpressed, new).

    `off_tape`: tape and patches are kept free too.
    """
    panel = shapely.union_all([one.outline for one in card.panels])
    flaps = flaps_of(card)
    moving = [area for flap in flaps for area in (flap.moving, flap.land(flap.moving))]
    lying = shapely.difference(card.base, shapely.union_all([flap.moving for flap in flaps]))
    outline = shapely.intersection(panel, card.base)
    over = shapely.intersection(panel, lying)
    kept = shapely.union_all([sheet.geometry for sheet in card.foam])
    spots = tuple(press_spot(cell, profile) for cell in card.cells if _pressed(cell))
    holes = shapely.union_all([opening.outline for opening in card.openings])
    taken = [
        shapely.buffer(holes, BESIDE_WINDOW),
        shapely.buffer(kept, BESIDE_FOAM),
        *light_ways(card, profile, spacer),
        *(shapely.buffer(part.body, _beside(part)) for part in card.parts),
        *(shapely.buffer(fold.line, BESIDE_FOLD) for fold in card.folds),
        *(shapely.buffer(area, BESIDE_FOLD) for area in moving),
        *spots,
    ]
    if off_tape:
        laid = [strip.geometry for strip in card.strips]
        laid += [patch.geometry for patch in card.patches]
        taken += [shapely.buffer(area, BESIDE_TAPE) for area in laid]
    bed = shapely.buffer(over, -INSIDE, join_style="mitre")
    return Ground(
        free=shapely.difference(bed, shapely.union_all(taken)),
        panel=shapely.difference(over, shapely.union_all([holes, *spots])),
        kept=kept,
        spots=spots,
        outline=outline,
    )


def press_spot(cell: Part, profile: Profile) -> BaseGeometry:
    """The disc that gives when this battery is pressed, and that takes no foam.

    25 mm (or what `press.ring-inside-min` asks) and `ring-clear` all round it; for a large holder
    as far as its corners reach and `ring-beside` more.
    """
    centre = shapely.centroid(cell.body)
    corners = shapely.points(shapely.get_coordinates(cell.body))
    reach = float(shapely.distance(corners, centre).max()) + profile.press.ring_beside
    inside = max(PRESS_LEAST, profile.press.ring_inside_min) / 2.0
    radius = max(inside + profile.press.ring_clear, reach)
    return Point(centre.x, centre.y).buffer(radius / SHORT, quad_segs=QUARTER)


def light_ways(card: Card, profile: Profile, spacer: float) -> list[BaseGeometry]:
    """What the light of each light passes on its way up, seen from above.

    From everywhere on the lens to its window, as far as half brightness reaches up to the panel.
    A light without a window over it keeps its whole circle free.
    """
    ways = []
    windows = shapely.STRtree([opening.outline for opening in card.openings])
    for light in card.lights:
        lens = light.features["lens"]
        circle = shapely.buffer(lens, max(_reach(light, profile, spacer), BESIDE_PART))
        over = windows.query(Point(light.at), predicate="intersects")
        window = _smallest([card.openings[i] for i in sorted(over)])
        if window is None:
            ways.append(circle)
            continue
        seen = shapely.intersection(window.outline, circle)
        hull = shapely.convex_hull(shapely.union_all([lens, seen]))
        ways.append(shapely.buffer(shapely.intersection(hull, circle), BESIDE_PART))
    return ways


def _smallest(openings: Sequence[Opening]) -> Opening | None:
    return min(openings, key=lambda one: float(one.outline.area), default=None)


def _reach(light: Part, profile: Profile, spacer: float) -> float:
    """How far to the side light of half brightness gets up to the panel (mm).

    Foam is highest when new, so that light gets farthest.
    """
    known = profile.lights.get(light.type)
    low = height_of(light, profile)
    if known is None or low is None:
        return settled(spacer, profile)
    half = min(math.radians(known.beam_angle / 2.0), math.radians(85.0))
    return max(spacer - low, 0.0) * math.tan(half)


def _pressed(cell: Part) -> bool:
    return str(cell.attributes.get("closes", "press")) == "press"


def _beside(part: Part) -> float:
    moves = part.kind == "switch" or part.attributes.get("closes") == "slide"
    return BESIDE_MOVING if moves else BESIDE_PART
