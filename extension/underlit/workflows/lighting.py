"""A card as ground to place lights on, and placed lights as parts of a card."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..connectivity import read_circuit
from ..errors import UnknownChoice
from ..language import later, say, say_count
from ..model.card import Card, Opening, Part
from ..placement.figures import poses
from ..placement.lights import Ground, Placed, Taken, Tapes, Unlit, lights_fed
from ..placement.poles import visual_centre
from ..profiles import CellType, LightType, Profile
from ..stack import USUAL_CELL
from ..units import TOLERANCE

#: A hole in foam that is no longer than this and holds a battery is a press ring; its wall is taken
#: as no wider than WALL (mm). Common practice, no source.
RING = 60.0
WALL = 10.0

#: What may be in a light's way besides other lights, by its kind, as reports name it.
IN_THE_WAY = {
    "cell": later("the battery"),
    "switch": later("the switch"),
    "resistor": later("the resistor"),
    "pull-tab": later("the pull tab"),
    "fold": later("a fold"),
}

#: What covers an opening, as reports name it; told in `lighting_words`.
PIECE, FOAM, COVER = "a piece", "foam", "the cover"
BOTH = "foam and the cover"

#: Bodies keep this from a fold that moves often (mm), as `tape-on-fold` wants it.
FROM_FOLD = 5.0


def kind_of(name: str, profile: Profile) -> str:
    """The name of a light type; the first of the profile for "". Raises UnknownChoice."""
    if not name:
        return next(iter(profile.lights))
    if name not in profile.lights:
        known = ", ".join(profile.lights)
        raise UnknownChoice(
            say("There is no light {name}; this profile has {known}.", name=name, known=known)
        )
    return name


def fed_by(card: Card, profile: Profile, light: LightType) -> int:
    """How many lights of a type the card's battery still feeds besides those that it has."""
    cell = _cell_type(card, profile)
    fed = lights_fed(cell, light, profile.limits.light_smallest_ma)
    return max(0, fed * max(1, len(card.cells)) - len(card.lights))


def battery_words(card: Card, profile: Profile, most: int) -> str:
    """How many lights more the battery feeds, in words: a CR2032 feeds 16."""
    name, batteries = _cell_name(card, profile).upper(), max(1, len(card.cells))
    if card.lights:
        return say_count(
            "a {battery} feeds {most} more",
            "{number} batteries feed {most} more",
            batteries,
            battery=name,
            most=most,
        )
    return say_count(
        "a {battery} feeds {most}",
        "{number} batteries feed {most}",
        batteries,
        battery=name,
        most=most,
    )


def _cell_type(card: Card, profile: Profile) -> CellType:
    return profile.cells[_cell_name(card, profile)]


def _cell_name(card: Card, profile: Profile) -> str:
    for cell in card.cells:
        if cell.type in profile.cells:
            return cell.type
        if cell.type in profile.holders:
            return profile.holders[cell.type].cell
    return USUAL_CELL


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


def ground_of(card: Card, profile: Profile) -> Ground:
    """The back sheet, all that is taken on it, the tape that lies there, and the openings."""
    windows = dict(shining(card))
    taken = [
        Taken(
            windows.get(light.id, f"light {light.id}"),
            light.body,
            light.features["positive-pad"],
            light.features["negative-pad"],
        )
        for light in card.lights
    ]
    for part in (*card.cells, *card.switches, *card.resistors, *card.pull_tabs):
        body = shapely.union_all([part.body, *_rings(part, card)])
        taken.append(Taken(IN_THE_WAY[part.kind], body))
    for fold in card.folds:
        if fold.moves != "once":
            beside = fold.line.buffer(FROM_FOLD, cap_style="flat")
            taken.append(Taken(IN_THE_WAY["fold"], beside, core=fold.line, margin=FROM_FOLD))
    return Ground(card.base, tuple(taken), card.openings, _tapes(card, profile))


def _tapes(card: Card, profile: Profile) -> Tapes | None:
    """Tape by the side that it leads to; as it is labelled where it leads to none yet."""
    if not card.strips:
        return None
    circuit = read_circuit(card, profile.tape.adhesive_conducts)
    sides: dict[str, list[BaseGeometry]] = {"positive": [], "negative": [], "": []}
    for i, strip in enumerate(card.strips):
        side = circuit.nets[circuit.net_of[i]].polarity
        side = side if side in sides else strip.polarity or ""
        sides[side if side in sides else ""].append(strip.geometry)
    plus, minus, unknown = (shapely.union_all(areas) for areas in sides.values())
    return Tapes(plus, minus, unknown)


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


def hidden_by(one: Unlit, opening: Opening, card: Card, lens: float) -> Unlit:
    """An opening that seems too small, told by what covers it where it would be large enough."""
    if one.reason not in {"too-small", "covered"}:
        return one
    if not _fits(opening.outline, lens):
        pole = visual_centre(opening.outline)
        widest, at = (0.0, one.at) if pole is None else (2.0 * pole.radius, pole.at)
        return replace(one, reason="too-small", measured=widest, at=at)
    foam = [sheet.geometry for sheet in card.foam]
    covers = [sheet.geometry for sheet in card.covers]
    if not _fits(opening.clear, lens):
        thing = PIECE
    elif not _fits(_less(opening, foam).clear, lens):
        thing = FOAM
    elif not _fits(_less(opening, covers).clear, lens):
        thing = COVER
    else:
        thing = BOTH
    return replace(one, reason="covered", blocker=thing)


def covering(opening: Opening, card: Card) -> tuple[str, ...]:
    """Ids of foam and cover sheets over an opening."""
    sheets = (*card.foam, *card.covers)
    over = [s.object for s in sheets if s.geometry.intersection(opening.clear).area > TOLERANCE]
    return tuple(dict.fromkeys(over))


def _fits(area: BaseGeometry, lens: float) -> bool:
    pole = visual_centre(area, lens / 2.0)
    return pole is not None and pole.radius >= lens / 2.0 - TOLERANCE


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
