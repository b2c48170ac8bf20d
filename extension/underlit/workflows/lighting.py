"""A card as ground to place lights on, and placed lights as parts of a card."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..errors import UnknownChoice
from ..model.card import Card, Opening, Part
from ..placement.figures import poses
from ..placement.lights import Ground, Placed, Taken, lights_fed
from ..profiles import CellType, LightType, Profile
from ..units import TOLERANCE

#: A hole in foam that is no longer than this and holds a battery is a press ring; its wall is taken
#: as no wider than WALL (mm). Common practice, no source.
RING = 60.0
WALL = 10.0

#: Bodies keep this from a fold that moves often (mm), as `tape-on-fold` wants it.
FROM_FOLD = 5.0

#: The battery that is meant where none is drawn yet.
USUAL_CELL = "cr2032"


def kind_of(name: str, profile: Profile) -> str:
    """The name of a light type; the first of the profile for "". Raises UnknownChoice."""
    if not name:
        return next(iter(profile.lights))
    if name not in profile.lights:
        known = ", ".join(profile.lights)
        raise UnknownChoice(f"There is no light {name}; this profile has {known}.")
    return name


def fed_by(card: Card, profile: Profile, light: LightType) -> int:
    """How many lights of a type the card's battery still feeds besides those that it has."""
    cell = _cell_type(card, profile)
    fed = lights_fed(cell, light, profile.limits.light_smallest_ma)
    return max(0, fed * max(1, len(card.cells)) - len(card.lights))


def _cell_type(card: Card, profile: Profile) -> CellType:
    for cell in card.cells:
        if cell.type in profile.cells:
            return profile.cells[cell.type]
        if cell.type in profile.holders:
            return profile.cells[profile.holders[cell.type].cell]
    return profile.cells[USUAL_CELL]


def lit_openings(card: Card) -> frozenset[str]:
    """Names of the openings in which a light's lens shines already."""
    return frozenset(name for _, name in shining(card))


def shining(card: Card) -> list[tuple[str, str]]:
    """(light id, opening name) of every light whose lens is under what stays open."""
    if not (card.lights and card.openings):
        return []
    tree = shapely.STRtree([opening.clear for opening in card.openings])
    points = shapely.points([light.at for light in card.lights])
    hits = tree.query(points, predicate="dwithin", distance=TOLERANCE).T.tolist()
    return [(card.lights[i].id, card.openings[k].name) for i, k in sorted(hits)]


def without(card: Card, lights: Collection[str]) -> Card:
    """The card without some of its lights."""
    return replace(card, lights=tuple(light for light in card.lights if light.id not in lights))


def ground_of(card: Card) -> Ground:
    """The back sheet, all that is taken on it, and the openings."""
    taken = [
        Taken(
            f"light {light.id}",
            light.body,
            light.features["positive-pad"],
            light.features["negative-pad"],
        )
        for light in card.lights
    ]
    words = {"cell": "the battery", "switch": "the switch", "resistor": "the resistor"}
    for part in (*card.cells, *card.switches, *card.resistors, *card.pull_tabs):
        word = words.get(part.kind, "the pull tab")
        taken.append(Taken(word, shapely.union_all([part.body, *_rings(part, card)])))
    for fold in card.folds:
        if fold.moves != "once":
            taken.append(Taken("a fold", fold.line.buffer(FROM_FOLD, cap_style="flat")))
    return Ground(card.base, tuple(taken), card.openings)


def _rings(cell: Part, card: Card) -> list[BaseGeometry]:
    """Press rings of foam round a battery, filled."""
    found = []
    for sheet in card.foam if cell.kind == "cell" else ():
        for polygon in shapely.get_parts(sheet.geometry):
            for hole in shapely.polygons(list(polygon.interiors)) if polygon.interiors else ():
                left, top, right, bottom = hole.bounds
                if max(right - left, bottom - top) <= RING and hole.contains(cell.body):
                    wall = polygon.intersection(hole.buffer(WALL))
                    found.append(shapely.union(hole, wall))
    return found


def open_parts(card: Card, openings: Sequence[Opening]) -> tuple[Opening, ...]:
    """Openings with what foam and cover sheets hide taken off what stays open."""
    over = [sheet.geometry for sheet in (*card.foam, *card.covers)]
    if not over:
        return tuple(openings)
    tree = shapely.STRtree(over)
    return tuple(
        _less(opening, [over[k] for k in sorted(tree.query(opening.clear, predicate="intersects"))])
        for opening in openings
    )


def _less(opening: Opening, over: Sequence[BaseGeometry]) -> Opening:
    if not over:
        return opening
    return replace(opening, clear=_only_areas(opening.clear.difference(shapely.union_all(over))))


def _only_areas(geometry: BaseGeometry) -> BaseGeometry:
    parts = [p for p in shapely.get_parts(geometry) if p.geom_type == "Polygon"]
    return parts[0] if len(parts) == 1 else shapely.multipolygons(parts)


def part_of(light: Placed, name: str, kind: LightType, index: int) -> Part:
    """A placed light as a part of the card."""
    shapes = poses(kind, np.array([light.at]), np.array([light.angle_deg]))
    lens = shapely.Point(light.at).buffer(kind.lens / 2.0, quad_segs=48)
    features = {
        "positive-pad": shapes.plus[0],
        "negative-pad": shapes.minus[0],
        "lens": lens,
        "body": shapes.bodies[0],
    }
    attributes = {"type": light.kind}
    return Part(name, True, "light", light.kind, index, attributes, features)


def names_for(lights: Sequence[Placed], ids: Collection[str]) -> list[str]:
    """An id for each light after the number of its window, none of them taken."""
    used = set(ids)
    names = []
    for light in lights:
        stem = f"light-{light.number}"
        name, n = stem, 1
        while name in used:
            n += 1
            name = f"{stem}-{n}"
        used.add(name)
        names.append(name)
    return names
