"""A card as the router sees it: what must be reached, what is in the way, what stays."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from ..connectivity.contacts import is_bare
from ..connectivity.folding import flaps_of
from ..interpretation.contours import is_closed
from ..language import say
from ..model.card import Part
from ..model.case import Case
from ..model.drawing import Shape
from ..records import record
from ..routing.task import (
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
from ..units import TOLERANCE
from .flaps import flap_pad
from .part_areas import angle_of

#: Seconds after which the router hands back the best it has, by the number of lights.
PATIENCE = ((12, 4.0), (30, 10.0))
MOST_PATIENCE = 30.0

#: How far beyond a bare battery's edge its rim still counts (mm), as the rule has it.
AROUND = 1.0


@record
class Wish:
    """What the maker asks of the router (the options of `route_tape.py`).

    `turn` is free | 45 | locked for every light that is not locked by itself; `follow` takes
    her sketch as a plan; `patches` lets plus and minus cross over paper where there is no other
    way; `replace` are ids of strips that may be taken up again.
    """

    turn: str = "free"
    style: str = "free"
    fewer_strips: float = 0.5
    effort: int | None = None
    seconds: float | None = None
    seed: int = 1
    follow: bool = True
    patches: bool = False
    replace: frozenset[str] = frozenset()


def board_of(case: Case, wish: Wish, locked: frozenset[str]) -> Task:
    """The task of laying all tape of a card; `locked` are lights that keep their angle."""
    card = case.card
    own, foreign = _openings(case)
    return Task(
        base=card.base,
        lights=tuple(_light(case, light, wish, locked) for light in card.lights),
        cells=tuple(_cell(case, cell) for cell in card.cells),
        obstacles=foreign,
        openings=own,
        parts=tuple(
            TwoPad(part.id, part.features["contact-1"], part.features["contact-2"], part.body)
            for part in (*card.switches, *card.resistors)
        ),
        folds=tuple(
            FoldLine(fold.object, fold.line, fold.moves == "often" or fold.cell is not None)
            for fold in card.folds
        ),
        pinned=_pinned(case, wish.replace),
        sketches=_sketches(case) if wish.follow else (),
        limits=_limits(case),
        choices=Choices(
            fewer_strips=wish.fewer_strips,
            style=wish.style,
            corners=case.profile.tape.corners,
            conducts=case.profile.tape.adhesive_conducts,
            effort=wish.effort or Choices().effort,
            seconds=wish.seconds or _patience(len(card.lights)),
            seed=wish.seed,
            patches=wish.patches,
        ),
    )


def _patience(lights: int) -> float:
    return next((seconds for most, seconds in PATIENCE if lights <= most), MOST_PATIENCE)


def _light(case: Case, light: Part, wish: Wish, locked: frozenset[str]) -> Light:
    angle, (x, y) = angle_of(light), light.at

    def own(feature: str) -> BaseGeometry:
        """A feature in the light's own frame."""
        moved = affinity.translate(light.features[feature], -x, -y)
        return affinity.rotate(moved, -angle, origin=(0.0, 0.0))

    kind = case.profile.lights.get(light.type)
    limits = case.profile.limits
    return Light(
        id=light.id,
        at=(x, y),
        positive=own("positive-pad"),
        negative=own("negative-pad"),
        body=own("body"),
        angle=angle,
        turn="locked" if light.id in locked else wish.turn,
        gap=limits.smallest_gap if kind is None else kind.gap_at_light,
    )


def _cell(case: Case, cell: Part) -> Cell:
    kind = case.profile.cells.get(cell.type)
    flap = next((flap for flap in flaps_of(case.card) if flap.cell.id == cell.id), None)
    apart = None if flap is None else flap_pad(flap)
    ring = covered = None
    if kind is not None and is_bare(cell, apart):
        centre = cell.body.centroid
        outer = centre.buffer(kind.diameter / 2.0 + AROUND, quad_segs=32)
        ring = outer.difference(centre.buffer(kind.cap_radius, quad_segs=32))
        covered = shapely.union_all([patch.geometry for patch in case.card.patches])
    return Cell(
        cell.id,
        cell.features["positive-pad"],
        cell.features["negative-pad"],
        cell.body,
        ring,
        covered,
    )


def bare_rims(case: Case) -> bool:
    """Whether some bare battery has no paper over its rim at all."""
    cells = (_cell(case, cell) for cell in case.card.cells)
    return any(c.ring is not None and not c.ring.intersects(c.insulated) for c in cells)


def paper_over_rim(case: Case) -> str | None:
    """The lowest patch that lies over a bare battery's rim: tape goes under it.

    None without any, and where the minus side is up (then the paper lies under the tape).
    """
    bodies = []
    for cell in case.card.cells:
        flapped = any(fold.cell == cell.id for fold in case.card.folds)
        if _cell(case, cell).ring is not None and (flapped or cell.attributes.get("up") != "minus"):
            bodies.append(cell.body)
    over = shapely.union_all(bodies)
    return next((p.object for p in case.card.patches if p.geometry.intersects(over)), None)


def _openings(case: Case) -> tuple[tuple[OwnOpening, ...], tuple[Obstacle, ...]]:
    """Windows over a light, and all others with the distance that tape keeps from them."""
    limits, card = case.profile.limits, case.card
    if card.side == "back":  # tape lies behind the sheet: it shows nowhere
        return (), ()
    covers = shapely.union_all([sheet.geometry for sheet in card.covers])
    lenses = shapely.STRtree([light.features["lens"] for light in card.lights])
    own: list[OwnOpening] = []
    foreign: list[Obstacle] = []
    for opening in card.openings:
        seen = opening.clear.difference(covers)
        if seen.area <= TOLERANCE:
            continue
        if len(lenses.query(opening.outline, predicate="intersects")):
            own.append(OwnOpening(opening.name, seen, limits.own_opening_tape))
        elif not opening.through:
            name = say("window {number}", number=opening.number)
            foreign.append(Obstacle(name, seen, limits.opening_clearance))
    return tuple(own), tuple(foreign)


def _pinned(case: Case, replace: frozenset[str]) -> tuple[Pinned, ...]:
    """Strips that stay, with the side that they are on."""
    sides = {
        id(conductor.strip): sign
        for conductor, sign in zip(case.circuit.conductors, case.meant, strict=True)
        if conductor.strip is not None
    }
    top = _laid_at(case)
    papers = [p for p in case.card.patches if p.order < top]
    found = []
    for strip in case.card.strips:
        if strip.object not in replace:
            area, side = strip.geometry, sides.get(id(strip)) or strip.polarity
            over = [p.geometry for p in papers if p.order > strip.order]
            over = [p for p in over if p.intersects(area)]
            paper = shapely.union_all(over) if over else None
            found.append(Pinned(strip.name, area, strip.width, strip.line, side, paper))
    return tuple(found)


def _laid_at(case: Case) -> float:
    """The place in the laying order that new tape gets."""
    below = paper_over_rim(case)
    return next((p.order for p in case.card.patches if p.object == below), float("inf"))


def _sketches(case: Case) -> tuple[LineString, ...]:
    """The maker's thin lines on Tape."""
    return tuple(
        LineString(np.vstack([c.points, c.points[:1]]) if is_closed(c) else c.points)
        for shape in case.facts.sketches
        for c in shape.contours
        if len(c.points) > 1
    )


def _limits(case: Case) -> Limits:
    limits = case.profile.limits
    return Limits(
        width=case.profile.tape.width,
        gap=limits.smallest_gap,
        aim_gap=limits.aim_gap,
        edge=limits.edge_margin,
        aim_edge=limits.aim_edge,
        pad_cover=limits.pad_cover,
        aim_pad=limits.aim_pad,
        joint_cover=limits.joint_cover,
        aim_joint=limits.aim_joint,
        patch=case.profile.patch.margin,
        widths=tuple(w for w in case.profile.tape.stock_widths if w >= limits.narrowest_tape),
    )


def made_by(shapes: Mapping[str, Shape], action: str) -> frozenset[str]:
    """Ids of shapes that an action made and that nobody pinned or copied."""
    return frozenset(
        name
        for name, shape in shapes.items()
        if shape.attributes.get("made") == f"{action}:{name}"
        and shape.attributes.get("pin") != "true"
    )
