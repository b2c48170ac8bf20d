"""Foam that was laid out: what it is made of, how it is drawn, what is said about it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..export.sheets import Offer, sheets_of
from ..foam import Layout, Press
from ..markup.part_shapes import Box, Paint, PartShape, Rings
from ..model.card import Card, Sheet
from ..model.case import Case
from ..profiles import Profile
from ..records import record
from ..rules.wording import count, layers, mm, two_digits
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
        return f"{layers(foams[:1], profile)} in {count_word(len(foams))} layers"
    return layers(foams, profile)


def count_word(number: int) -> str:
    """two, three, then figures."""
    return {2: "two", 3: "three"}.get(number, str(number))


def foam_sheets(
    layout: Layout, style: str, foam: Foam, profile: Profile, free_id: Callable[[str], str]
) -> list[LaidSheet]:
    """The pieces of foam as objects. `free_id` makes an id of the one that is wanted."""
    kind = "Foam strip" if style == "frame" else "Foam pad"
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
    """Cover and diffuser behind the openings as the cutter files offer them, and what is not drawn
    since it is there already."""
    cutter, found, there = case.profile.cutter, [], []
    offer = Offer(cutter.glue_margin, cutter.lens_clearance)
    bare = replace(case.card, covers=(), diffusers=())
    pieces = dict(sheets_of(bare, offer)) if wish.cover or wish.diffuser else {}
    asked = (
        ("cover", "Cover", wish.cover, case.card.covers),
        ("diffuser", "Vellum", wish.diffuser, case.card.diffusers),
    )
    for role, title, wanted, own in asked:
        if wanted and own:
            there.append(title.lower())
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
    if foam.foams:
        on = "" if len(foam.foams) == 1 else f", one on the other ({mm(foam.spacer)} in all)"
        lines.append(f"Take foam of {foam_words(foam.foams, case.profile)}{on}.")
    elif foam.spacer != SHIPPED_SPACER:
        lines.append(f"Cut them from your own foam, {mm(foam.spacer)} thick in all.")
    elif tallest(case.card, case.profile) is not None:
        lines.append("None of your foams fits under the panel: see the stack in the report.")
    lines += _support(wish, layout)
    if not case.card.base_drawn:
        lines.append("No back sheet is drawn: I took the panel's edge for it.")
    for name, one in press:
        call = next((case.inner(cell) for cell in case.card.cells if cell.id == name), name)
        lines.append(f"Pressing {call} will feel {one.feel} (an estimate, {_force(one)}).")
    lines += [_sheet_words(one) for one in sheets if one.role != "foam"]
    lines += [f"Your own {word} stays; I drew none." for word in there]
    if (wish.cover or wish.diffuser) and not there and all(s.role == "foam" for s in sheets):
        lines.append("There are no windows to lay a cover or vellum behind.")
    return lines


def _first(case: Case, pieces: Sequence[LaidSheet], foam: Foam, layout: Layout) -> str:
    if not pieces:
        if layout.unsupported is None:
            return "There is no room for foam on this card."
        return "No more foam was laid."
    area = sum(one.area.area for one in pieces) / 100.0
    words = f"{count(len(pieces), 'piece', 'pieces')} of foam laid, {two_digits(area)} cm2."
    if case.card.foam:
        words += f" Your own {count(len(case.card.foam), 'piece', 'pieces')} stay and count."
    return words


def _support(wish: FoamWish, layout: Layout) -> list[str]:
    if layout.unsupported is None or layout.at is None:
        return []
    longest = mm(layout.unsupported)
    if is_supported(layout, wish):
        return [f"Longest stretch of panel without foam: {longest} of {mm(wish.span)}."]
    x, y = layout.at
    return [
        f"Near {x:.0f}, {y:.0f} mm a stretch of {longest} of panel stays without foam (you asked "
        f"for {mm(wish.span)}): windows, lights, the battery or an edge leave no room there."
    ]


def _force(press: Press) -> str:
    if not np.isfinite(press.force):
        return "there is foam on the spot"
    return f"about {two_digits(press.force)} N over {mm(press.free)} of free panel"


def _sheet_words(one: LaidSheet) -> str:
    holes = sum(len(p.interiors) for p in shapely.get_parts(one.area) if p.geom_type == "Polygon")
    parts = count(shapely.get_num_geometries(one.area), "piece", "pieces")
    if one.role == "cover":
        return f"Cover: {parts}, with {count(holes, 'hole', 'holes')} over the lights."
    return f"Vellum: {parts} behind the windows."
