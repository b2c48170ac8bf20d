"""light-blocked: something stands between a light and its window.

Foam, a cover without a hole there, or another part's body, over the lens as seen from above; or
in the way of its light from the lens up to the window. Foam stands as high as the panel lies, a
body as high as its kind; a cover lies down on the tape, lower than the lens. Light is followed to
half its brightness (`beam-angle`), from the middle of the lens.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from ..language import later, say
from ..model.card import Opening, Part
from ..model.case import Case
from ..model.finding import Finding
from ..records import record
from ..stack import height_of, panel_height

CODE = "light-blocked"

#: What can be cut away over a lens, and what is said of it.
SHEETS = {"foam": later("Foam"), "cover": later("The cover")}

#: Over the lens, or in the way of light, by less than this is drawing noise (mm2).
NOISE = 0.01

#: Which sheet, or the part in words; id, outline, part (None: a sheet).
Thing = tuple[str, str, BaseGeometry, Part | None]


@record
class _Things:
    """What may lie over a lens, found by place; the windows; how high the panel lies (mm)."""

    over: list[Thing]
    tree: shapely.STRtree
    windows: shapely.STRtree
    panel: float


def check(case: Case) -> Iterator[Finding]:
    """One finding per light: over the lens first, else in the way."""
    card = case.card
    over: list[Thing] = [("foam", sheet.object, sheet.geometry, None) for sheet in card.foam]
    over += [("cover", sheet.object, sheet.geometry, None) for sheet in card.covers]
    over += [(case.call(part), part.id, part.body, part) for part in case.bodies]
    tree = shapely.STRtree([thing[2] for thing in over])
    windows = shapely.STRtree([opening.outline for opening in card.openings])
    things = _Things(over, tree, windows, panel_height(card, case.profile))
    for light in card.lights:
        finding = _over(case, light, things) or _beside(case, light, things)
        if finding:
            yield finding


def _over(case: Case, light: Part, things: _Things) -> Finding | None:
    lens = light.features["lens"]
    for i in sorted(things.tree.query(lens, predicate="intersects")):
        word, name, geometry, _ = things.over[i]
        hidden = geometry.intersection(lens)
        if name != light.id and hidden.area > NOISE:
            return _finding(case, light, word, name, hidden)
    return None


def _beside(case: Case, light: Part, things: _Things) -> Finding | None:
    """What stands in the way of its light to the smallest window over it."""
    found = things.windows.query(shapely.Point(light.at), predicate="intersects")
    known = case.profile.lights.get(light.type)
    low = height_of(light, case.profile)
    if not len(found) or low is None or known is None:
        return None
    window = min((case.card.openings[i] for i in found), key=lambda one: one.outline.area)
    room = things.panel - low
    slope = math.tan(math.radians(known.beam_angle / 2.0))
    reach = shapely.Point(light.at).buffer(max(room, 0.0) * slope)
    near = things.tree.query(reach, predicate="intersects") if room > 0.0 else []
    for i in sorted(near):
        word, name, geometry, part = things.over[i]
        if name == light.id or word == "cover":
            continue
        share = 1.0 if part is None else _share(case, part, low, room)
        if share <= 0.0:
            continue
        way = _way(light, window, share).intersection(
            shapely.Point(light.at).buffer(share * room * slope)
        )
        hidden = geometry.intersection(way)
        if hidden.area > NOISE:
            return _in_the_way(case, light, word, name, hidden)
    return None


def _share(case: Case, part: Part, low: float, room: float) -> float:
    """How far up from the lens (0) to the panel (1) a part reaches."""
    high = height_of(part, case.profile)
    return 0.0 if high is None else min(max((high - low) / room, 0.0), 1.0)


def _way(light: Part, window: Opening, share: float) -> BaseGeometry:
    """What light from the lens to the window passes, seen from above, up to `share` of the way.

    Every ray from the lens's middle to the window's edge, and all between them.
    """
    x, y = light.at
    part = affinity.scale(window.outline, share, share, origin=(x, y))
    ring = shapely.get_coordinates(shapely.get_exterior_ring(shapely.get_geometry(part, 0)))
    start = np.broadcast_to((x, y), (len(ring) - 1, 2))
    fans = shapely.polygons(np.stack([start, ring[:-1], ring[1:], start], axis=1))
    return shapely.union_all([*fans[shapely.area(fans) > 0.0], part])


def _called(word: str) -> str:
    return say(SHEETS[word]) if word in SHEETS else word


def _in_the_way(case: Case, light: Part, word: str, name: str, hidden: shapely.Geometry) -> Finding:
    at = hidden.centroid
    return Finding(
        CODE,
        "caution",
        (at.x, at.y),
        (light.id, name),
        say(
            "{thing} stands in the way of {light}: it shades part of the window.",
            thing=_called(word),
            light=case.inner(light),
        ),
        say("Cut it away beside the light, out to the window's edge.")
        if word in SHEETS
        else say("Move one of the two."),
    )


def _finding(case: Case, light: Part, word: str, name: str, hidden: shapely.Geometry) -> Finding:
    share = 100.0 * hidden.area / light.features["lens"].area
    at = hidden.centroid
    return Finding(
        CODE,
        "caution",
        (at.x, at.y),
        (light.id, name),
        say(
            "{thing} lies over the lens of {light} ({share} % of it).",
            thing=_called(word),
            light=case.inner(light),
            share=round(share),
        ),
        say("Cut it away over the lens, or move the light.")
        if word in SHEETS
        else say("Move one of the two."),
    )
