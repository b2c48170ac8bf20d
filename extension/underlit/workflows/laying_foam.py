"""Foam that was laid out: what it is made of, how it is drawn, what is said about it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..export.sheets import Offer, sheets_of
from ..foam import Layout, Press
from ..language import later, mm, say, say_count, two_digits
from ..markup.part_shapes import Box, Paint, PartShape, Rings
from ..model.card import Card, Sheet
from ..model.case import Case
from ..profiles import Profile
from ..records import record
from ..rules.wording import layers
from ..stack import SHIPPED_SPACER, planned, pressed_height, settled, tallest
from ..units import TOLERANCE
from .report import rounded

STYLES = ("pads", "frame")

#: How sheets are painted, as the sample cards paint theirs.
PAINTS = {
    "foam": Paint("#8f86ad", "#6d6592", 0.2, opacity=0.3),
    "cover": Paint("#b9b2a6", "#7d766a", 0.2, opacity=0.25),
    "diffuser": Paint("#a9c7d8", "#5f8296", 0.2, opacity=0.25),
}

#: Ids of what is drawn, as they are wanted.
NAMES = {"pads": "foam-pad", "frame": "foam-strip", "cover": "cover", "diffuser": "vellum"}

#: What is said of a sheet that is there already, by its role.
STAYS = {
    "cover": later("Your own cover stays; I drew none."),
    "diffuser": later("Your own vellum stays; I drew none."),
}

#: What is said of a press, by how it feels.
FEELS = {
    "soft": later("Pressing {part} will feel soft (an estimate, {force})."),
    "firm": later("Pressing {part} will feel firm (an estimate, {force})."),
    "too stiff": later("Pressing {part} will feel too stiff (an estimate, {force})."),
}


@record
class FoamWish:
    """Options of the action. `span` in mm."""

    span: float
    style: str = "pads"
    off_tape: bool = False
    cover: bool = False
    diffuser: bool = False


@record
class Foam:
    """What the foam is: kinds by their names in the profile, lowest first, none where no foams of
    the profile would do or the maker named a thickness. `spacer` is the thickness new (mm)."""

    foams: tuple[str, ...]
    spacer: float
    travel: float | None


@record
class LaidSheet:
    """One object to be drawn: `shape` in page mm, `more` underlit attributes by local name."""

    role: str
    name: str
    title: str
    shape: PartShape
    area: BaseGeometry
    more: tuple[tuple[str, str], ...] = ()


def foam_for(case: Case) -> Foam:
    """The foam of a card as the report's `stack` has it: the maker's own, else the cheapest."""
    plan = planned(case.card, case.profile)
    layers = plan.layers
    if layers is None or layers.thickness != plan.spacer:
        return Foam((), plan.spacer, None if plan.tall is None else _travel(case, plan.spacer))
    return Foam(layers.foams, layers.thickness, layers.travel)


def _travel(case: Case, spacer: float) -> float | None:
    """How far a spot goes down until it meets the battery; None without one, or no way at all."""
    press = pressed_height(case.card, case.profile)
    left = settled(spacer, case.profile)
    return None if press is None or left <= press else left - press


def foam_words(foams: Sequence[str], profile: Profile) -> str:
    """3 mm; 2 mm in two layers; 3 mm + 1.6 mm (lowest first)."""
    if len(foams) > 1 and len({profile.foams[name].thickness for name in foams}) == 1:
        one = layers(foams[:1], profile)
        return say("{foam} in {number} layers", foam=one, number=count_word(len(foams)))
    return layers(foams, profile)


def count_word(number: int) -> str:
    """two, three, then figures."""
    return {2: say("two"), 3: say("three")}.get(number, str(number))


def foam_sheets(
    layout: Layout, style: str, foam: Foam, profile: Profile, free_id: Callable[[str], str]
) -> list[LaidSheet]:
    """The pieces of foam as objects. `free_id` makes an id of the one that is wanted."""
    kind = say("Foam strip") if style == "frame" else say("Foam pad")
    title = f"{kind}, {foam_words(foam.foams, profile)}" if foam.foams else kind
    more: tuple[tuple[str, str], ...] = ()
    if foam.foams:
        more = (("foam", " ".join(foam.foams)), ("height", f"{foam.spacer:g}"))
    return [
        LaidSheet("foam", free_id(f"{NAMES[_style(piece)]}-{n}"), title, _shape(piece, "foam"),
                  piece, more)
        for n, piece in enumerate(layout.pieces, 1)
    ]  # fmt: skip


def _style(piece: BaseGeometry) -> str:
    """Long pieces are strips, whatever was asked for."""
    left, top, right, bottom = piece.bounds
    return "frame" if max(right - left, bottom - top) > 12.0 else "pads"


def offered_sheets(
    case: Case, wish: FoamWish, free_id: Callable[[str], str]
) -> tuple[list[LaidSheet], list[str]]:
    """Cover and diffuser behind the openings as the cutter files offer them, and roles of what is
    not drawn since it is there already."""
    cutter, found, there = case.profile.cutter, [], []
    offer = Offer(cutter.glue_margin, cutter.lens_clearance)
    bare = replace(case.card, covers=(), diffusers=())
    pieces = dict(sheets_of(bare, offer)) if wish.cover or wish.diffuser else {}
    asked = (
        ("cover", say("Cover"), wish.cover, case.card.covers),
        ("diffuser", say("Vellum"), wish.diffuser, case.card.diffusers),
    )
    for role, title, wanted, own in asked:
        if wanted and own:
            there.append(role)
        elif wanted and pieces.get(role):
            area = shapely.union_all([piece.area for piece in pieces[role]])
            shape = _shape(area, role)
            found.append(LaidSheet(role, free_id(NAMES[role]), title, shape, area))
    return found, there


def _shape(area: BaseGeometry, role: str) -> PartShape:
    left, top, right, bottom = area.bounds
    if abs((right - left) * (bottom - top) - area.area) < 1e-6:
        return PartShape(Box(left, top, right - left, bottom - top), None, PAINTS[role])
    rings = shapely.get_rings(shapely.get_parts(area))
    outline = Rings(tuple(shapely.get_coordinates(ring)[:-1] for ring in rings))
    return PartShape(outline, None, PAINTS[role])


def card_with_sheets(card: Card, sheets: Sequence[LaidSheet]) -> Card:
    """The card with the sheets on it, as it will be read back."""
    more: dict[str, list[Sheet]] = {"foam": [], "cover": [], "diffuser": []}
    for one in sheets:
        more[one.role].append(Sheet(one.name, one.role, one.area))
    return replace(
        card,
        foam=(*card.foam, *more["foam"]),
        covers=(*card.covers, *more["cover"]),
        diffusers=(*card.diffusers, *more["diffuser"]),
    )


def figures(
    wish: FoamWish,
    foam: Foam,
    layout: Layout,
    card: Card,
    sheets: Sequence[LaidSheet],
    press: Sequence[tuple[str, Press]],
) -> dict[str, object]:
    """The key `foam` of the report; lengths mm, areas mm2."""
    laid = [one for one in sheets if one.role == "foam"]
    unsupported = layout.unsupported
    return {
        "style": wish.style,
        "span": rounded(wish.span),
        "off_tape": wish.off_tape,
        "layers": list(foam.foams),
        "thickness": rounded(foam.spacer) if foam.foams else None,
        "pieces": len(laid),
        "area": rounded(sum(one.area.area for one in laid)),
        "kept_pieces": len(card.foam),
        "kept_area": rounded(shapely.union_all([s.geometry for s in card.foam]).area),
        "longest_unsupported": None if unsupported is None else rounded(unsupported),
        "at": None if layout.at is None else [rounded(value) for value in layout.at],
        "supported": is_supported(layout, wish),
        "press": [_press(name, one) for name, one in press],
        "objects": [one.name for one in sheets],
    }


def is_supported(layout: Layout, wish: FoamWish) -> bool:
    """Whether no place of the panel is farther than half a span from foam."""
    return layout.unsupported is not None and layout.unsupported <= wish.span + TOLERANCE


def _press(name: str, press: Press) -> dict[str, object]:
    return {
        "cell": name,
        "estimate": press.feel,
        "free": rounded(press.free),
        "travel": rounded(press.travel),
        "newton": round(press.force, 2) if np.isfinite(press.force) else None,
    }


def said(
    case: Case,
    wish: FoamWish,
    foam: Foam,
    layout: Layout,
    sheets: Sequence[LaidSheet],
    there: Sequence[str],
    press: Sequence[tuple[str, Press]],
) -> list[str]:
    """The closing message, line by line."""
    pieces = [one for one in sheets if one.role == "foam"]
    lines = [_first(case, pieces, foam, layout)]
    lines += _kind(case, foam)
    lines += _support(wish, layout)
    if not case.card.base_drawn:
        lines.append(say("No back sheet is drawn: I took the panel's edge for it."))
    for name, one in press:
        call = next((case.inner(cell) for cell in case.card.cells if cell.id == name), name)
        lines.append(say(FEELS[one.feel], part=call, force=_force(one)))
    lines += [_sheet_words(one) for one in sheets if one.role != "foam"]
    lines += [say(STAYS[role]) for role in there]
    if (wish.cover or wish.diffuser) and not there and all(s.role == "foam" for s in sheets):
        lines.append(say("There are no windows to lay a cover or vellum behind."))
    return lines


def _kind(case: Case, foam: Foam) -> list[str]:
    """Which foam to take."""
    if len(foam.foams) > 1:
        return [
            say(
                "Take foam of {foam}, one on the other ({thickness} in all).",
                foam=foam_words(foam.foams, case.profile),
                thickness=mm(foam.spacer),
            )
        ]
    if foam.foams:
        return [say("Take foam of {foam}.", foam=foam_words(foam.foams, case.profile))]
    if foam.spacer != SHIPPED_SPACER:
        own = mm(foam.spacer)
        return [say("Cut them from your own foam, {thickness} thick in all.", thickness=own)]
    if tallest(case.card, case.profile) is not None:
        return [say("None of your foams fits under the panel: see the stack in the report.")]
    return []


def _first(case: Case, pieces: Sequence[LaidSheet], foam: Foam, layout: Layout) -> str:
    if not pieces:
        if layout.unsupported is None:
            return say("There is no room for foam on this card.")
        return say("No more foam was laid.")
    area = sum(one.area.area for one in pieces) / 100.0
    words = say_count(
        "{number} piece of foam laid, {area} cm2.",
        "{number} pieces of foam laid, {area} cm2.",
        len(pieces),
        area=two_digits(area),
    )
    if not case.card.foam:
        return words
    own = say_count(
        "{number} piece that was there stays and counts.",
        "{number} pieces that were there stay and count.",
        len(case.card.foam),
    )
    return f"{words} {own}"


def _support(wish: FoamWish, layout: Layout) -> list[str]:
    if layout.unsupported is None or layout.at is None:
        return []
    longest = mm(layout.unsupported)
    if is_supported(layout, wish):
        span = mm(wish.span)
        return [
            say(
                "Longest stretch of panel without foam: {longest} of {span}.",
                longest=longest,
                span=span,
            )
        ]
    x, y = layout.at
    return [
        say(
            "Near {x}, {y} mm a stretch of {longest} of panel stays without foam (you asked for "
            "{span}): windows, lights, the battery or an edge leave no room there.",
            x=f"{x:.0f}",
            y=f"{y:.0f}",
            longest=longest,
            span=mm(wish.span),
        )
    ]


def _force(press: Press) -> str:
    if not np.isfinite(press.force):
        return say("there is foam on the spot")
    return say(
        "about {force} N over {free} of free panel",
        force=two_digits(press.force),
        free=mm(press.free),
    )


def _sheet_words(one: LaidSheet) -> str:
    holes = sum(len(p.interiors) for p in shapely.get_parts(one.area) if p.geom_type == "Polygon")
    number = int(shapely.get_num_geometries(one.area))
    if one.role == "cover":
        return say_count(
            "Cover: {pieces}, with {number} hole over the lights.",
            "Cover: {pieces}, with {number} holes over the lights.",
            holes,
            pieces=say_count("{number} piece", "{number} pieces", number),
        )
    return say_count(
        "Vellum: {number} piece behind the windows.",
        "Vellum: {number} pieces behind the windows.",
        number,
    )
