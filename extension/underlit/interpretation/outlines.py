"""Die cut: panels, openings and loose pieces from the outlines that a maker draws."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.areas import filled_area, sound
from ..geometry.places import inner_places, reading_order
from ..geometry.relations import relate
from ..language import say, say_count
from ..model.card import LoosePiece, Opening, Panel, Score
from ..model.drawing import Page, Shape
from ..model.finding import Finding
from ..records import record
from .contours import SPECK, closed_outlines, is_closed, is_speck
from .doubles import Merged, doubled_findings, merge_doubles
from .frames import frame_finding, may_be_panel, split_frames
from .naming import names_in_order
from .nesting import Hole, Paper, nest
from .open_lines import judge_open_lines, open_lines

#: A piece lies on a diffuser where at least this share of it does.
ON_DIFFUSER = 0.5


@record
class Outlines:
    """What the outlines of Die cut mean.

    `openings` are in the order of their numbers, `loose` in reading order; `LoosePiece.panel`,
    `.opening` and `Opening.panel` are indices here. Counts for later actions: `doubled` lines
    that run along another one, `coincident` ones on top of another, `specks` left out, `scores`
    (open lines on a panel), `notches` cut from panels, `gaps` (outlines that nearly close),
    `chained` (outlines that come as separate lines). `lines`: those that do not close, on a panel;
    `unclosed`: ids of those that may be meant as the panel.
    `frames`: ids of outlines that were left out for being as large as the page; `frame_doubtful`:
    they may be the panel all the same.
    """

    panels: tuple[Panel, ...] = ()
    openings: tuple[Opening, ...] = ()
    loose: tuple[LoosePiece, ...] = ()
    findings: tuple[Finding, ...] = ()
    doubled: int = 0
    coincident: int = 0
    specks: int = 0
    scores: int = 0
    notches: int = 0
    frames: tuple[str, ...] = ()
    frame_doubtful: bool = False
    gaps: int = 0
    chained: int = 0
    lines: tuple[Score, ...] = ()
    unclosed: tuple[str, ...] = ()


@record
class _Hole:
    """An opening on its way: `stays` is the paper that remains in it."""

    object: str
    panel: int | None
    outline: BaseGeometry
    clear: BaseGeometry
    pieces: tuple[int, ...] = ()
    through: bool = False


@record
class _Piece:
    """A loose piece on its way, in hole number `hole`."""

    object: str
    panel: int
    hole: int
    outline: BaseGeometry
    stays: bool


def read_outlines(
    shapes: Sequence[Shape],
    page: Page,
    diffuser: BaseGeometry,
    base: BaseGeometry | None = None,
) -> Outlines:
    """Sort the outlines of Die cut into panels, openings and loose pieces.

    `shapes` are those of the layer, `diffuser` is all vellum together (may be empty), `base` the
    drawn back sheet (None: unknown). See the drawing conventions, section 3, "Die cut" and
    "Names of openings".
    """
    through = [s for s in shapes if s.attributes.get("glow") == "through"]
    cut = [s for s in shapes if s.attributes.get("glow") != "through"]
    found, findings = closed_outlines(cut)
    outlines = [o for o in found if not is_speck(o)]
    specks = len(found) - len(outlines)
    counting, frames = split_frames(outlines, page)
    merged = merge_doubles(counting)
    areas = np.array([o.area for o in merged.outlines], dtype=object)
    papers = nest(areas, relate(areas), merged.flagged("part", "panel")) if len(areas) else []
    panels = tuple(Panel(merged.outlines[p.outline].shape.id, p.area) for p in papers)
    holes, pieces = _walk(papers, merged, diffuser)
    glowing, more, small = _through(through, panels)
    openings, places = _openings([*holes, *glowing])
    loose = _loose(pieces, openings, places)
    doubtful = bool(frames) and _frame_doubtful(merged, papers, page, base)
    asked = [frame_finding(frames[0], page)] if doubtful else []
    opened = judge_open_lines(open_lines(cut), [panel.outline for panel in panels])
    told = (*findings, *more, *_falling(loose), *doubled_findings(merged), *asked)
    return Outlines(
        panels=panels,
        openings=openings,
        loose=loose,
        findings=(*told, *opened.findings),
        doubled=sum(len(d) for d in merged.double) - sum(merged.same),
        coincident=sum(merged.same),
        specks=specks + small,
        scores=opened.scores,
        notches=sum(paper.notches for paper in papers),
        frames=tuple(dict.fromkeys(frame.shape.id for frame in frames)),
        frame_doubtful=doubtful,
        gaps=opened.gaps,
        chained=opened.chained,
        lines=opened.lines,
        unclosed=opened.unclosed,
    )


def _frame_doubtful(
    merged: Merged, papers: Sequence[Paper], page: Page, base: BaseGeometry | None
) -> bool:
    """Whether a frame that was left out may be the panel; never where one is marked."""
    if any(merged.flagged("part", "panel")):
        return False
    return may_be_panel(page, [(p.area, bool(p.openings)) for p in papers], base)


def _walk(
    papers: Sequence[Paper], merged: Merged, diffuser: BaseGeometry
) -> tuple[list[_Hole], list[_Piece]]:
    """All openings and loose pieces of nested paper, outer ones first."""
    holes: list[tuple[int, Hole]] = []
    pieces: list[tuple[int, int, Paper]] = []
    todo = [(number, paper) for number, paper in enumerate(papers)]
    for panel, paper in todo:
        for hole in paper.openings:
            pieces += [(panel, len(holes), piece) for piece in hole.pieces]
            holes.append((panel, hole))
            todo += [(panel, piece) for piece in hole.pieces]
    glued = merged.flagged("glued", "true")
    lying = _lying(diffuser, [piece.area for _, _, piece in pieces])
    stays = [glued[p.outline] or on for (_, _, p), on in zip(pieces, lying, strict=True)]
    kept = _remaining([hole for _, hole in holes], [p for _, _, p in pieces], stays)
    names = [outline.shape.id for outline in merged.outlines]
    return (
        [
            _Hole(names[hole.outlines[0]], panel, hole.area, _less(hole.area, paper))
            for (panel, hole), paper in zip(holes, kept, strict=True)
        ],
        [
            _Piece(names[piece.outline], panel, hole, piece.area, stay)
            for (panel, hole, piece), stay in zip(pieces, stays, strict=True)
        ],
    )


def _lying(diffuser: BaseGeometry, areas: Sequence[BaseGeometry]) -> list[bool]:
    """Whether each piece lies on the diffuser by at least half."""
    if diffuser.is_empty or not areas:
        return [False] * len(areas)
    shapely.prepare(diffuser)
    covered = shapely.covers(diffuser, list(areas))
    return [
        bool(whole) or diffuser.intersection(area).area >= ON_DIFFUSER * area.area
        for whole, area in zip(covered, areas, strict=True)
    ]


def _remaining(
    holes: Sequence[Hole], pieces: Sequence[Paper], stays: Sequence[bool]
) -> list[list[BaseGeometry]]:
    """The paper that remains in each opening: pieces that stay, and such in falling ones."""
    staying = {id(piece) for piece, stay in zip(pieces, stays, strict=True) if stay}
    kept: dict[int, list[BaseGeometry]] = {}
    for hole in reversed(holes):
        kept[id(hole)] = [
            area
            for piece in hole.pieces
            for area in (
                [piece.area]
                if id(piece) in staying
                else [area for inner in piece.openings for area in kept[id(inner)]]
            )
        ]
    return [kept[id(hole)] for hole in holes]


def _less(area: BaseGeometry, paper: Sequence[BaseGeometry]) -> BaseGeometry:
    return sound(area.difference(shapely.union_all(list(paper)))) if paper else area


def _through(
    shapes: Sequence[Shape], panels: Sequence[Panel]
) -> tuple[list[_Hole], list[Finding], int]:
    """Uncut areas that are meant to glow; also findings, and the number of specks."""
    holes: list[_Hole] = []
    findings: list[Finding] = []
    specks = 0
    for shape in shapes:
        findings += closed_outlines([shape])[1]
        area = filled_area([c for c in shape.contours if is_closed(c)], shape.fill_rule)
        if shape.clip is not None:
            area = sound(area.intersection(shape.clip))
        for part in shapely.get_parts(area):
            if part.area < SPECK - 1e-6:
                specks += 1
                continue
            at = part.representative_point()
            inside = [k for k, panel in enumerate(panels) if panel.outline.contains(at)]
            panel = inside[0] if inside else None
            holes.append(_Hole(shape.id, panel, part, part, through=True))
    return holes, findings, specks


def _openings(holes: Sequence[_Hole]) -> tuple[tuple[Opening, ...], list[int]]:
    """Numbered and named openings, and which opening each hole has become."""
    places = inner_places([h.outline for h in holes], [h.clear for h in holes])
    order = reading_order(places)
    names = names_in_order([holes[i].object for i in order])
    openings = tuple(
        Opening(
            number=number,
            name=name,
            object=holes[i].object,
            at=places[i],
            outline=holes[i].outline,
            clear=holes[i].clear,
            panel=holes[i].panel,
            through=holes[i].through,
        )
        for number, (i, name) in enumerate(zip(order, names, strict=True), 1)
    )
    index = [0] * len(holes)
    for number, i in enumerate(order):
        index[i] = number
    return openings, index


def _loose(
    pieces: Sequence[_Piece], openings: Sequence[Opening], places: Sequence[int]
) -> tuple[LoosePiece, ...]:
    """Loose pieces in reading order, named like openings."""
    at = inner_places([piece.outline for piece in pieces])
    order = reading_order(at)
    names = names_in_order([pieces[i].object for i in order])
    return tuple(
        LoosePiece(
            name=name,
            object=pieces[i].object,
            at=at[i],
            outline=pieces[i].outline,
            panel=pieces[i].panel,
            opening=places[pieces[i].hole],
            stays=pieces[i].stays,
        )
        for i, name in zip(order, names, strict=True)
    )


def _falling(loose: Sequence[LoosePiece]) -> list[Finding]:
    """loose-piece: all pieces that fall out of one panel, at the first of them."""
    by_panel: dict[int, list[LoosePiece]] = {}
    for piece in loose:
        if not piece.stays:
            by_panel.setdefault(piece.panel, []).append(piece)
    return [_falls(by_panel[panel]) for panel in sorted(by_panel)]


def _falls(pieces: Sequence[LoosePiece]) -> Finding:
    one = len(pieces) == 1
    return Finding(
        "loose-piece",
        "caution",
        pieces[0].at,
        tuple(dict.fromkeys(piece.object for piece in pieces)),
        say_count(
            "{number} loose piece will fall out of its window.",
            "{number} loose pieces will fall out of their windows.",
            len(pieces),
        ),
        say("Glue it to the vellum, and draw the vellum on Diffuser or mark it as glued.")
        if one
        else say("Glue them to the vellum, and draw the vellum on Diffuser or mark them as glued."),
    )
