"""Prepare: what a die-cut drawing holds, openings to click, layers, a back sheet on request."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.places import inner_places, reading_order
from ..interpretation.card import read_card
from ..interpretation.outlines import Outlines, read_outlines
from ..markup.openings import opening_groups, piece_groups
from ..markup.primitives import Group
from ..model.card import Card
from ..model.drawing import LABELS, TOOL_ROLES, Drawing, Shape
from ..profiles import Profile
from ..records import record
from ..rules import check_some
from .preparing import (
    Piece,
    closing_words,
    frame_hint,
    hints,
    nothing_to_read,
    open_hints,
    summary_words,
)
from .report import build_report, rounded
from .validate import make_case

#: Rules that have something to say of outlines and sheets alone.
CODES = (
    "outline-crosses-itself",
    "base-shows",
    "loose-piece",
    "object-skipped",
    "outline-doubled",
    "outline-open",
    "outside-panel",
)

#: The layers that a maker draws on, from the table below to the panel's side.
MAKER_ROLES = tuple(role for role in LABELS if role not in TOOL_ROLES)


@record
class Preparation:
    """What preparing a drawing gives.

    `groups` go on the Openings layer; `layers` are roles that the drawing lacks; `base` is a
    back sheet to be drawn (None: none). `untouched`: there is no panel in a drawing that is
    not empty, so nothing of all this shall be drawn.
    """

    report: dict[str, object]
    groups: tuple[Group, ...]
    layers: tuple[str, ...]
    base: BaseGeometry | None
    untouched: bool
    select: tuple[str, ...]
    summary: str
    message: str


def prepare(drawing: Drawing, profile: Profile, margin: float | None) -> Preparation:
    """Look at a drawing whose roles are set.

    `margin` (mm): draw a back sheet that much smaller than the panel where there is none; None:
    do not.
    """
    reading = read_card(drawing, profile.tape.corners)
    case = make_case(drawing, reading, profile)
    card, outlines = case.card, reading.outlines
    findings = check_some(case, CODES)
    pieces = pieces_of(card)
    empty = not (drawing.shapes or drawing.parts or drawing.remarks)
    if not pieces:
        findings = (nothing_to_read(empty, outlines.frame_doubtful), *findings)
    base = _base(card, margin)
    missing = {layer.role for layer in drawing.layers}
    layers = tuple(role for role in MAKER_ROLES if role not in missing)
    several = len(pieces) > 1 and not marked(drawing)
    told = hints(case, pieces if several else (), margin, base, outlines.specks)
    told = (*frame_hint(outlines), *open_hints(outlines), *told)
    words = closing_words(pieces, several, outlines, base, findings, told)
    report = build_report("prepare", drawing.name, case, findings, (), None)
    report["preparation"] = _figures(pieces, outlines, base, margin, layers, told)
    return Preparation(
        report=report,
        groups=opening_groups(card.openings)
        + (piece_groups([piece.at for piece in pieces]) if several else ()),
        layers=layers,
        base=base,
        untouched=not pieces and not empty,
        select=(),
        summary=summary_words(words, findings),
        message=words,
    )


def plain_outlines(drawing: Drawing) -> Outlines:
    """The outlines of Die cut as if no panel was marked."""
    shapes = [
        _unmarked(shape)
        for shape in drawing.shapes
        if shape.role == "die-cut" and shape.part is None and not shape.feature
    ]
    return read_outlines(shapes, drawing.page, shapely.Polygon())


def _unmarked(shape: Shape) -> Shape:
    if "part" not in shape.attributes:
        return shape
    attributes = {k: v for k, v in shape.attributes.items() if k != "part"}
    return replace(shape, attributes=attributes)


def marked(drawing: Drawing) -> bool:
    """Whether some outline is marked as the panel."""
    return any(s.role == "die-cut" and s.attributes.get("part") == "panel" for s in drawing.shapes)


def pieces_of_plain(drawing: Drawing) -> tuple[Piece, ...]:
    """Separate pieces of a drawing, as if no panel was marked."""
    return pieces_of(plain_outlines(drawing))


def pieces_of(card: Card | Outlines) -> tuple[Piece, ...]:
    """Separate panels from top to bottom and left to right, with what is in each."""
    places = inner_places([panel.outline for panel in card.panels])
    found = []
    for i in reading_order(places):
        openings = sum(o.panel == i for o in card.openings)
        x0, y0, x1, y1 = card.panels[i].outline.bounds
        found.append(Piece(card.panels[i].object, places[i], (x1 - x0, y1 - y0), openings))
    return tuple(found)


def no_panel(drawing: Drawing, ids: frozenset[str]) -> str | None:
    """Why a chosen outline can be no panel: what it is instead. None where it may be one.

    A window with nothing in it stays a window; one with outlines in it may be a panel inside a
    frame. A piece inside a window is none.
    """
    plain = plain_outlines(drawing)
    if any(panel.object in ids for panel in plain.panels):
        return None
    for piece in plain.loose:
        if piece.object in ids:
            return f"lies inside window {plain.openings[piece.opening].number}"
    full = {piece.opening for piece in plain.loose}
    for i, opening in enumerate(plain.openings):
        if opening.object in ids and i not in full:
            return f"is window {opening.number} of a larger outline, with nothing in it"
    return None


def _base(card: Card, margin: float | None) -> BaseGeometry | None:
    """A back sheet as large as the panels less a margin; None where none is asked for."""
    if margin is None or card.base_drawn or not card.panels:
        return None
    whole = shapely.union_all([panel.outline for panel in card.panels])
    shrunk = shapely.buffer(whole, -margin, quad_segs=8)  # no slits at inner corners
    return None if shrunk.is_empty else shrunk


def _figures(
    pieces: Sequence[Piece],
    outlines: Outlines,
    base: BaseGeometry | None,
    margin: float | None,
    layers: Sequence[str],
    told: Sequence[str],
) -> dict[str, object]:
    return {
        "pieces": [
            {
                "number": number,
                "name": piece.object,
                "at": [rounded(v) for v in piece.at],
                "size": [rounded(v) for v in piece.size],
                "openings": piece.openings,
            }
            for number, piece in enumerate(pieces, 1)
        ],
        "loose_pieces": len(outlines.loose),
        "score_lines": outlines.scores,
        "double_lines": outlines.doubled + outlines.coincident,
        "specks": outlines.specks,
        "base_margin": margin if base is not None else None,
        "layers_added": list(layers),
        "hints": list(told),
    }
