"""The other materials of a card: base, foam, patches, cover, diffuser, panel."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ..model.card import Card, Sheet
from ..records import record
from .cut import Piece
from .pieces import polygons, sheet_pieces, simplified, together

#: Margins of what is offered need no more than this (mm), and so many segments per quarter.
COARSE = 0.05
SEGMENTS = 4


@record
class Offer:
    """How cover and diffuser are offered where none is drawn (mm)."""

    glue_margin: float
    lens_clearance: float


def sheets_of(card: Card, offer: Offer | None) -> list[tuple[str, list[Piece]]]:
    """(material, pieces) of every sheet that the card has or is offered, in building order."""
    both = card.covers and card.diffusers
    behind = shapely.MultiPolygon() if both else _behind_openings(card, offer)
    found = [
        ("base", sheet_pieces("base", card.base)),
        ("patches", _patches(card)),
        ("foam", sheet_pieces("foam", _union(card.foam))),
        ("cover", _cover(card, offer, behind)),
        ("diffuser", _diffuser(card, behind)),
        ("panel", _panel(card)),
    ]
    return [(material, pieces) for material, pieces in found if pieces]


def _union(sheets: Sequence[Sheet]) -> BaseGeometry:
    """Drawn objects of one role as areas that do not overlap."""
    return shapely.union_all([sheet.geometry for sheet in sheets])


def _patches(card: Card) -> list[Piece]:
    pieces: list[Piece] = []
    for patch in card.patches:
        pieces += sheet_pieces(f"patch-{len(pieces) + 1}", patch.geometry)
    return pieces


def _cover(card: Card, offer: Offer | None, behind: BaseGeometry) -> list[Piece]:
    """As drawn; else one sheet behind the windows with a hole over each lens."""
    if card.covers:
        return sheet_pieces("cover", _union(card.covers))
    if offer is None or behind.is_empty:
        return []
    lenses = [light.features["lens"] for light in card.lights]
    if not lenses:
        return []
    round_ = shapely.buffer(lenses, offer.lens_clearance, quad_segs=SEGMENTS)
    holes = together(shapely.simplify(round_, COARSE))
    return sheet_pieces("cover", shapely.difference(behind, holes), offered=True)


def _diffuser(card: Card, behind: BaseGeometry) -> list[Piece]:
    """As drawn; else what covers each window and a margin for glue."""
    if card.diffusers:
        return sheet_pieces("diffuser", _union(card.diffusers))
    return sheet_pieces("diffuser", behind, offered=True)


def _behind_openings(card: Card, offer: Offer | None) -> BaseGeometry:
    """Windows with the glue margin as few plain pieces, no farther than the panel reaches."""
    holes = [opening.outline for opening in card.openings if not opening.through]
    if offer is None or not holes:
        return shapely.MultiPolygon()
    plain = shapely.simplify(holes, COARSE)
    wide = together(shapely.buffer(plain, 2.0 * offer.glue_margin, quad_segs=SEGMENTS))
    grown = simplified(shapely.buffer(wide, -offer.glue_margin), COARSE)
    filled = together([Polygon(part.exterior) for part in polygons(grown)])
    panels = together([panel.outline for panel in card.panels])
    neck = offer.glue_margin / 2.0
    inside = shapely.buffer(shapely.intersection(filled, panels), -neck, quad_segs=SEGMENTS)
    return simplified(shapely.buffer(inside, neck, quad_segs=SEGMENTS), COARSE)


def _panel(card: Card) -> list[Piece]:
    """Panels with their windows cut out, and the loose pieces of those windows."""
    if not card.panels:
        return []
    holes = [opening.outline for opening in card.openings if not opening.through]
    cut = together(holes)
    whole = together([panel.outline for panel in card.panels])
    pieces = sheet_pieces("panel", shapely.difference(whole, cut))
    for n, loose in enumerate(card.loose, 1):
        inner = [hole for hole in holes if loose.outline.contains(hole.representative_point())]
        inner = [hole for hole in inner if hole.area < loose.outline.area]
        area = shapely.difference(loose.outline, shapely.union_all(inner))
        pieces += sheet_pieces(f"loose-{n}", area)
    return pieces
