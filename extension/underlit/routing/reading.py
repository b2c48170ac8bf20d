"""A card and its profile as a board to be routed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ..connectivity.contacts import is_bare
from ..connectivity.folding import flaps_of
from ..model.card import Card, Opening, Part
from .task import (
    Cell,
    Choices,
    FoldLine,
    Light,
    Limits,
    Obstacle,
    OwnOpening,
    Pinned,
    Task,
    TwoPad,
)

if TYPE_CHECKING:
    from ..profiles import Profile

#: Around a bare cell its rim counts this far (mm).
RIM = 1.0

#: Pieces of an opening smaller than this are drawing noise (mm2).
SPECK = 0.05


def task_from(
    card: Card,
    profile: Profile,
    choices: Choices,
    turn: str = "free",
    pinned: Sequence[str] = (),
    sketches: Sequence[shapely.LineString] = (),
) -> Task:
    """The board of a card: parts, openings, foam; `pinned` names the strips that stay.

    Lights with `underlit:turn="locked"` are locked whatever `turn` says.
    """
    limits = profile.limits
    own, foreign = _openings(card)
    obstacles = [
        Obstacle(f"window {o.number}", area, limits.opening_clearance) for o, area in foreign
    ]
    strips = [s for s in card.strips if s.name in set(pinned)]
    return Task(
        base=card.base,
        lights=tuple(_light(part, profile, turn) for part in card.lights),
        cells=tuple(_cell(part, card, profile) for part in card.cells),
        obstacles=tuple(obstacles),
        openings=tuple(
            OwnOpening(f"window {o.number}", a, limits.own_opening_tape) for o, a in own
        ),
        parts=tuple(_two_pads(part) for part in (*card.switches, *card.resistors)),
        folds=tuple(FoldLine(f.object, f.line, f.moves == "often") for f in card.folds),
        pinned=tuple(Pinned(s.name, s.geometry, s.width, s.line, s.polarity) for s in strips),
        sketches=tuple(sketches),
        limits=Limits(
            width=profile.tape.width,
            gap=limits.smallest_gap,
            aim_gap=limits.aim_gap,
            edge=limits.edge_margin,
            aim_edge=limits.aim_edge,
            pad_cover=limits.pad_cover,
            aim_pad=limits.aim_pad,
            joint_cover=limits.joint_cover,
            aim_joint=limits.aim_joint,
        ),
        choices=choices,
    )


def _one(area: BaseGeometry) -> Polygon:
    """A pad as one convex polygon."""
    hull: Polygon = area.convex_hull
    return hull


def _light(part: Part, profile: Profile, turn: str) -> Light:
    plus, minus = part.features["positive-pad"], part.features["negative-pad"]
    a, b = minus.centroid, plus.centroid
    angle = float(np.degrees(np.arctan2(b.y - a.y, b.x - a.x))) % 360.0
    x, y = part.at

    def own(area: BaseGeometry) -> Polygon:
        return _one(rotate(translate(area, -x, -y), -angle, origin=(0, 0)))

    kind = profile.lights.get(part.type)
    gap = kind.gap_at_light if kind else profile.limits.smallest_gap
    locked = part.attributes.get("turn") == "locked"
    return Light(
        part.id,
        (x, y),
        own(plus),
        own(minus),
        own(part.body),
        angle,
        "locked" if locked else turn,
        gap,
    )


def _cell(part: Part, card: Card, profile: Profile) -> Cell:
    ring = insulated = None
    kind = profile.cells.get(part.type)
    flap = next((flap for flap in flaps_of(card) if flap.cell.id == part.id), None)
    pads = ("positive-pad", "negative-pad")
    apart = None
    if flap is not None:
        on_flap = (pad for pad in pads if flap.moving.contains(part.features[pad].centroid))
        apart = next(on_flap, None)
    if kind is not None and is_bare(part, apart):
        centre = part.body.centroid
        outer = centre.buffer(kind.diameter / 2.0 + RIM, quad_segs=32)
        ring = outer.difference(centre.buffer(kind.cap_radius, quad_segs=32))
        insulated = shapely.union_all([patch.geometry for patch in card.patches])
        if flap is not None:
            # where the flap's tape comes down outside the cell, minus tape needs a patch too
            inner = card.base.buffer(-profile.limits.edge_margin)
            landed = flap.land(flap.moving.intersection(inner))
            ring = shapely.union_all([ring, landed.difference(part.body)])
            ring = shapely.union_all([ring, flap.moving])
    plus, minus = _one(part.features["positive-pad"]), _one(part.features["negative-pad"])
    return Cell(part.id, plus, minus, part.body, ring, insulated)


def _two_pads(part: Part) -> TwoPad:
    first, second = _one(part.features["contact-1"]), _one(part.features["contact-2"])
    return TwoPad(part.id, first, second, part.body)


def _openings(
    card: Card,
) -> tuple[list[tuple[Opening, BaseGeometry]], list[tuple[Opening, BaseGeometry]]]:
    """Openings over lights, and foreign ones, with what of them is clear."""
    own, foreign = [], []
    if card.side == "back":
        return [], []
    covers = shapely.union_all([sheet.geometry for sheet in card.covers])
    lenses = shapely.union_all([light.features["lens"] for light in card.lights])
    for opening in card.openings:
        area = opening.clear.difference(covers)
        if area.area < SPECK:
            continue
        if lenses.intersects(opening.outline):
            own.append((opening, area))
        elif not opening.through:
            foreign += [(opening, piece) for piece in _pieces(area)]
    return own, foreign


def _pieces(area: BaseGeometry) -> Iterator[BaseGeometry]:
    for piece in shapely.get_parts(area):
        if piece.area > SPECK:
            yield piece
