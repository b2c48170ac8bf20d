"""Prepare: what a die-cut drawing holds, openings to click, layers, a back sheet on request."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from ..interpretation.card import read_card
from ..interpretation.contours import SPECK
from ..interpretation.outlines import Outlines
from ..markup.openings import piece_groups
from ..markup.primitives import Group
from ..model.card import Card
from ..model.drawing import LABELS, TOOL_ROLES, Drawing
from ..profiles import Profile
from ..records import record
from ..rules import check_some
from .doubts import (
    base_hint,
    edge_hints,
    frame_doubt,
    hints,
    layer_hints,
    nothing_to_read,
    open_hints,
)
from .pieces import Piece, marked, numbered, pieces_of
from .preparing import MOST_TOLD, closing_words, summary_words
from .report import build_report, rounded
from .validate import make_case
from .windows import window_groups

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


def prepare(
    drawing: Drawing,
    profile: Profile,
    margin: float | None,
    asked: Sequence[str] = (),
    instead: str = "",
) -> Preparation:
    """Look at a drawing whose roles are set.

    `margin` (mm): draw a back sheet that much smaller than the panel where there is none; None:
    do not. `asked`: sentences on what was chosen; `instead`: what to do with what is on
    the page but no outline ("": nothing is).
    """
    reading = read_card(drawing, profile.tape.corners)
    case = make_case(drawing, reading, profile)
    card, outlines = case.card, reading.outlines
    findings = check_some(case, CODES)
    pieces = pieces_of(card)
    empty = not (drawing.shapes or drawing.parts or drawing.remarks or instead)
    if not pieces:
        findings = (nothing_to_read(empty, outlines, instead), *findings)
    missing = {layer.role for layer in drawing.layers}
    layers = tuple(role for role in MAKER_ROLES if role not in missing)
    several = len(pieces) > 1 and not marked(drawing)
    base = None if several else _base(card, margin)
    if several:
        pieces = numbered(pieces, drawing)
    frame = frame_doubt(outlines) if pieces else ()
    told = (
        *asked,
        *(f"{finding.message} {finding.remedy}" for finding in frame),
        *base_hint(outlines, card.base_drawn),
        *hints(case, pieces if several else (), margin, base, outlines.specks),
        *edge_hints(outlines, drawing.page),
        *layer_hints(drawing),
        *open_hints(outlines),
    )
    drawn = None if base is None else margin
    words = closing_words(pieces, several, outlines, drawn, findings, told)
    known = frame if pieces else findings[:1]
    report = build_report("prepare", drawing.name, case, findings, (), None)
    report["preparation"] = _figures(pieces, outlines, base, margin, layers, told)
    return Preparation(
        report=report,
        groups=window_groups(card)
        + (piece_groups([(p.number, p.outline, p.windows) for p in pieces]) if several else ()),
        layers=layers,
        base=base,
        untouched=not pieces and not empty,
        select=(),
        summary=summary_words(words, findings, known),
        message=summary_words(words, findings, known, MOST_TOLD),
    )


def _base(card: Card, margin: float | None) -> BaseGeometry | None:
    """A back sheet as large as the panels less a margin; None where none is asked for."""
    if margin is None or card.base_drawn or not card.panels:
        return None
    whole = shapely.union_all([panel.outline for panel in card.panels])
    shrunk = shapely.buffer(whole, -margin, quad_segs=8)  # no slits at inner corners
    return None if shrunk.area < SPECK else shrunk


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
                "number": piece.number,
                "name": piece.object,
                "at": [rounded(v) for v in piece.at],
                "size": [rounded(v) for v in piece.size],
                "openings": piece.openings,
            }
            for piece in pieces
        ],
        "loose_pieces": len(outlines.loose),
        "score_lines": outlines.scores,
        "double_lines": outlines.doubled + outlines.coincident,
        "specks": outlines.specks,
        "base_margin": margin if base is not None else None,
        "layers_added": list(layers),
        "hints": list(told),
    }
