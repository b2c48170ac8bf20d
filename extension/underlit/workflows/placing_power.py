"""What placing a battery is told, what it makes of a card, and what is drawn for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import shapely
from shapely.geometry import LineString, MultiPolygon
from shapely.geometry.base import BaseGeometry

from ..errors import UnknownChoice
from ..geometry.areas import filled_area
from ..geometry.places import inner_place
from ..interpretation.contours import is_closed
from ..language import decimal, hundredths, inside, say
from ..markup.part_shapes import (
    Paint,
    PartDrawing,
    PartShape,
    Rings,
    pull_tab,
    rim_patch,
)
from ..markup.part_shapes.drawing import polyline
from ..markup.part_shapes.feet import HAIR
from ..markup.part_shapes.others import PATCH
from ..model.card import Card, Fold, Patch, Sheet
from ..model.case import Case
from ..model.drawing import Shape
from ..model.naming import by_program
from ..placement.power_data import Ground, Point, PowerPlace, Ring, Wish
from ..profiles import Profile
from ..records import record
from .part_areas import placed_part, upright
from .power_kinds import Kind, cell_drawing

#: Label of a chosen battery that is to be placed anew.
OLD = "underlit:old-place"

#: A shape that fills so much of the smallest circle round it is called round.
ROUND = 0.9

#: Ids of what is drawn, as they are wanted.
NAMES = {
    "cell": "battery",
    "ring": "press-ring",
    "fold": "flap-fold",
    "collar": "rim-paper",
    "tab": "pull-tab",
}

FOAM = Paint("#8f86ad", "#6d6592", 0.2, opacity=0.3)
FOLD = Paint(None, "#a0522d", 0.35, dash=(3.0, 1.5))


@record
class Chosen:
    """What the maker chose: shapes (page mm), or an opening by name, or a place.

    `name` is the id that was given, `label` what its maker called it.
    """

    shapes: tuple[Shape, ...] = ()
    opening: str | None = None
    at: Point | None = None
    name: str = ""
    label: str = ""


@record
class Drawn:
    """A part on its layer: its origin on the page (mm), its turn, further attributes."""

    key: str
    role: str
    part: PartDrawing
    at: Point
    angle: float
    more: Mapping[str, str]


def spot_of(chosen: Chosen, card: Card) -> tuple[Point, str]:
    """The place that was chosen and what to call it. Raises UnknownChoice."""
    if chosen.at is not None:
        x, y = map(hundredths, chosen.at)
        return chosen.at, say("at {x}, {y} mm", x=x, y=y)
    wanted = chosen.opening or chosen.name
    for opening in card.openings:
        if wanted in {opening.name, str(opening.object)} and _alone(wanted, opening.name, card):
            where = say("under window {number}", number=opening.number)
            return inner_place(opening.outline), where
    if chosen.opening is not None:
        raise UnknownChoice(
            say(
                "There is no window {name}; run step 1 again so that the windows are new.",
                name=chosen.opening,
            )
        )
    areas = [area for shape in chosen.shapes if not (area := _inside(shape)).is_empty]
    if not areas:
        raise UnknownChoice(
            say(
                "{name} is no closed shape, so it has no middle. Choose a closed shape.",
                name=say("What you chose") if by_program(chosen.name) else chosen.name,
            )
        )
    whole = shapely.union_all(areas)
    return inner_place(whole), _under(chosen, whole, card)


def _alone(wanted: str, name: str, card: Card) -> bool:
    """Whether an id means this opening and no other of the same object."""
    return wanted == name or sum(o.object == wanted for o in card.openings) == 1


def _inside(shape: Shape) -> BaseGeometry:
    closed = [contour for contour in shape.contours if is_closed(contour)]
    return filled_area(closed, shape.fill_rule) if closed else MultiPolygon()


def _under(chosen: Chosen, shape: BaseGeometry, card: Card) -> str:
    """Where a battery goes that is to lie under a shape: by what its maker calls that.

    A shape that has only the id of a program is told by what it is.
    """
    if chosen.label == OLD:
        return say("at its old place")
    word = chosen.label.strip() or chosen.name
    if by_program(word):
        return _under_nameless(chosen.name, shape, card)
    if word.replace("-", "").replace(" ", "").isalpha():
        return say("under the {shape}", shape=inside(word))
    return say("under {shape}", shape=word)


def _under_nameless(name: str, shape: BaseGeometry, card: Card) -> str:
    piece = next((piece for piece in card.loose if piece.object == name), None)
    if piece is not None:
        number = card.openings[piece.opening].number
        return say("under the loose piece in window {number}", number=number)
    if shape.area >= ROUND * shapely.minimum_bounding_circle(shape).area:
        return say("under the round shape that you chose")
    return say("under the shape that you chose")


def ground_of(case: Case) -> Ground:
    """What of a card matters to a battery."""
    card, circuit = case.card, case.circuit
    strips = len(card.strips)
    joints = [c.place for c in circuit.contacts if c.upper < strips and c.lower < strips]
    return Ground(
        panel=case.panel,
        base=card.base,
        openings=card.openings,
        lights=card.lights,
        others=card.cells + card.switches + card.resistors,
        foam=card.foam,
        joints=shapely.union_all(joints) if joints else MultiPolygon(),
        folds=shapely.union_all([f.line for f in card.folds]) if card.folds else MultiPolygon(),
    )


def drawn_of(
    place: PowerPlace, kind: Kind, profile: Profile, names: Mapping[str, str]
) -> tuple[Drawn, ...]:
    """Everything to be drawn, in the order in which it lies on the card."""
    wish, word = kind.wish, kind.holder or kind.cell
    fold_at = None if place.fold is None else place.fold.distance
    cell = upright(cell_drawing(word, wish.closes, wish.up, profile, fold_at), place.angle)
    more = {"up": wish.up} if wish.bare else {}
    found = [Drawn("cell", "power", cell, place.at, place.angle, more)]
    if place.tab is not None:
        tab = place.tab
        part = pull_tab(tab.length, tab.width, tab.back)
        found.append(Drawn("tab", "power", part, tab.at, tab.angle, {}))
    if place.ring is not None:
        title = say("Press ring, foam {layers}", layers=_layers(place.ring))
        found.append(_plain("ring", "foam", title, _rings(place.ring.area), FOAM, {}))
    if place.collar is not None:
        title = rim_patch(kind.cell, profile.cells[kind.cell], profile.patch.margin).title
        within = place.collar.buffer(-HAIR / 2.0, join_style="mitre")  # its edge line is paint too
        more = {"part": "patch"}
        found.append(_plain("collar", "tape", title, _rings(within), PATCH, more))
    if place.fold is not None:
        line = polyline(place.fold.start, place.fold.end)
        part = PartDrawing("", say("Fold of the flap"), {}, (PartShape(line, None, FOLD),))
        more = {"folds": names["cell"]}
        found.append(Drawn("fold", "folds", part, (0.0, 0.0), 0.0, more))
    return tuple(found)


def _plain(
    key: str, role: str, title: str, rings: Rings, paint: Paint, more: Mapping[str, str]
) -> Drawn:
    part = PartDrawing("", title, {}, (PartShape(rings, None, paint),))
    return Drawn(key, role, part, (0.0, 0.0), 0.0, more)


def _rings(area: BaseGeometry) -> Rings:
    found = shapely.get_rings(shapely.get_parts(area))
    return Rings(tuple(shapely.get_coordinates(ring)[:-1] for ring in found))


def _layers(ring: Ring) -> str:
    names = " + ".join(name.removeprefix("foam-") for name in ring.foams)
    return names or decimal(str(ring.thickness))


def card_with(
    card: Card, place: PowerPlace, kind: Kind, drawn: tuple[Drawn, ...], names: Mapping[str, str]
) -> Card:
    """The card with the battery on it, as it will be read back."""
    parts = {
        one.key: placed_part(one.part, names[one.key], one.at, one.angle, one.more)
        for one in drawn
        if one.role == "power"
    }
    more: dict[str, tuple[object, ...]] = {"cells": (*card.cells, parts["cell"])}
    if "tab" in parts:
        more["pull_tabs"] = (*card.pull_tabs, parts["tab"])
    if place.ring is not None:
        more["foam"] = (*card.foam, Sheet(names["ring"], "foam", place.ring.area))
    if place.fold is not None:
        line = LineString([place.fold.start, place.fold.end])
        more["folds"] = (*card.folds, Fold(names["fold"], line, "often", names["cell"]))
    if place.collar is not None:
        laid = [s.order for s in card.strips] + [p.order for p in card.patches]
        order = -1 if lies_lowest(kind.wish) else max(laid, default=-1) + 1
        patch = Patch(names["collar"], names["collar"], order, place.collar)
        more["patches"] = (*card.patches, patch)
    return replace(card, **more)  # type: ignore[arg-type]


def lies_lowest(wish: Wish) -> bool:
    """Whether the rim's paper is laid before all tape: minus tape comes over it from above."""
    return wish.up == "minus" and wish.closes != "flap"
