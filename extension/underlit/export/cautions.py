"""What may go wrong at the cutter: named, with figures and what to do."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon

from ..model.case import Case
from ..records import record
from .cut import Cut, Piece
from .measuring import narrow, smallest_feature
from .packing import Stock, fits_on, upright_area
from .splitting import split_places

Size = tuple[float, float]

#: A part of a piece that is no narrow place but a sharp corner (mm2).
CORNER = 0.05

#: What a maker calls the sheets.
NAMES = {
    "base": "the back sheet",
    "panel": "the panel",
    "cover": "the cover",
    "diffuser": "the vellum",
    "foam": "the foam",
    "patches": "the patches",
    "guides": "the guides",
}


@record
class Caution:
    """`about`: a word for the report (sheet, mat, piece-too-long, curved, long-shape, feature,
    hole); `pieces` labels; `at` page mm where there is a place."""

    about: str
    pieces: tuple[str, ...]
    at: tuple[float, float] | None
    message: str
    remedy: str


def cutter_cautions(
    case: Case,
    cuts: Sequence[Cut],
    pieces: Sequence[Piece],
    others: Sequence[tuple[str, Sequence[Piece]]],
    stock: Stock,
    in_place: bool,
    whole: bool,
) -> tuple[Caution, ...]:
    """Everything worth saying, tape first; `pieces` and `others` in page mm."""
    found = [
        *_sheet(cuts, stock, in_place),
        *_too_long(case, pieces, stock),
        *_mat(case, cuts),
        *(_long_shapes(case, pieces) if whole else ()),
        *_narrow_tape(case, pieces),
    ]
    for material, members in others:
        found += _narrow_paper(case, material, members)
        found += _small_holes(case, material, members)
    return tuple(found)


def figure(value: float) -> str:
    """One decimal, no trailing zero."""
    return f"{value:.1f}".rstrip("0").rstrip(".")


def _by(size: Size) -> str:
    return f"{figure(size[0])} x {figure(size[1])} mm"


def _content(cut: Cut) -> Size:
    """How much room all outlines of a sheet take."""
    points = np.concatenate([ring for outline in cut.outlines for ring in outline.rings])
    width, height = np.ptp(points, axis=0)
    return (float(width), float(height))


def _sheet(cuts: Sequence[Cut], stock: Stock, in_place: bool) -> list[Caution]:
    """The layout as it lies on the card against the sheet of tape."""
    tape = [cut for cut in cuts if cut.material.startswith("tape") and cut.outlines]
    too_large = [cut for cut in tape if not fits_on(_content(cut), stock)] if in_place else []
    if not too_large:
        return []
    size = max((_content(cut) for cut in too_large), key=lambda s: s[0] * s[1])
    have = "roll" if stock.roll else "sheet"
    return [
        Caution(
            "sheet",
            tuple(cut.name for cut in too_large),
            None,
            f"The layout with its corner marks takes {_by(size)}, but your {have} of tape has "
            f"{_by((stock.width, stock.height))} inside its margin.",
            "Pack the tape instead, or take a larger sheet and say so in your profile.",
        )
    ]


def _mat(case: Case, cuts: Sequence[Cut]) -> list[Caution]:
    """Every sheet against what the cutter takes in one go."""
    mat = case.profile.cutter.mat
    limit = Stock(mat[0], mat[1], 0.0, 0.0, False)
    found = []
    for cut in cuts:
        size = _content(cut) if cut.outlines else (0.0, 0.0)
        if not fits_on(size, limit):
            name = NAMES.get(cut.material, cut.name)
            found.append(
                Caution(
                    "mat",
                    (cut.name,),
                    None,
                    f"{name[0].upper()}{name[1:]} takes {_by(size)}: more than your cutter's mat "
                    f"({_by(mat)}).",
                    "Use a longer mat and say so in your profile, or cut it by hand.",
                )
            )
    return found


def _too_long(case: Case, pieces: Sequence[Piece], stock: Stock) -> list[Caution]:
    """Pieces that no sheet of tape takes, with a place to cut them in two."""
    found = []
    for piece in pieces:
        left, top, right, bottom = piece.area.bounds
        if fits_on((right - left, bottom - top), stock):
            continue
        upright = upright_area(piece.area)
        size = (float(upright.bounds[2]), float(upright.bounds[3]))
        if fits_on(size, stock):
            continue
        room = _by((stock.width, stock.height))
        if stock.roll and max(size) <= stock.height + 1e-6:
            found.append(
                Caution(
                    "curved",
                    (piece.label,),
                    _middle(piece),
                    f"Strip {piece.label} bends and needs {figure(min(size))} mm across; your "
                    f"roll has {figure(stock.width)} mm inside its margin.",
                    "Cut it from sheet, or straighten it.",
                )
            )
            continue
        have = "roll" if stock.roll else "sheet"
        places = _places(case, piece, stock)
        found.append(
            Caution(
                "piece-too-long",
                (piece.label,),
                places[0] if places else _middle(piece),
                f"Strip {piece.label} takes {_by(size)}; your {have} of tape has {room} inside "
                "its margin.",
                _split_words(case, piece, places),
            )
        )
    return found


def _places(case: Case, piece: Piece, stock: Stock) -> list[tuple[float, float]]:
    """Where a piece of one strip may be cut (empty: nowhere, or it is several strips)."""
    index = next((i for i, s in enumerate(case.card.strips) if (s.name,) == piece.strips), None)
    if index is None:
        return []
    circuit = case.circuit
    touching = [c.place for c in circuit.contacts if index in (c.upper, c.lower)]
    strip = case.card.strips[index]
    overlap = case.profile.limits.aim_joint * strip.width
    return split_places(
        strip, shapely.union_all(touching), overlap, lambda size: fits_on(size, stock)
    )


def _split_words(case: Case, piece: Piece, places: Sequence[tuple[float, float]]) -> str:
    if len(piece.strips) > 1:
        return "Cut the tape in single strips."
    if not places:
        return "Divide it where it runs straight, or take a larger sheet."
    where = " and ".join(f"{figure(x)}, {figure(y)} mm" for x, y in places)
    width = next(s.width for s in case.card.strips if (s.name,) == piece.strips)
    overlap = figure(case.profile.limits.aim_joint * width)
    return (
        f"Draw it as {len(places) + 1} strips: divide it at {where}, with an overlap of "
        f"{overlap} mm."
    )


def _middle(piece: Piece) -> tuple[float, float]:
    point = piece.area.representative_point()
    return (float(point.x), float(point.y))


def _long_shapes(case: Case, pieces: Sequence[Piece]) -> list[Caution]:
    limit = case.profile.cutter.longest_piece
    found = []
    for piece in pieces:
        upright = upright_area(piece.area)
        length = max(float(upright.bounds[2]), float(upright.bounds[3]))
        if length > limit + 0.01:
            found.append(
                Caution(
                    "long-shape",
                    (piece.label,),
                    _middle(piece),
                    f"Shape {piece.label} is {figure(length)} mm long; over {figure(limit)} mm "
                    "tape stretches and creases when it is laid.",
                    "Carry it over with transfer film, or cut single strips.",
                )
            )
    return found


def _narrow_tape(case: Case, pieces: Sequence[Piece]) -> list[Caution]:
    limit = case.profile.limits.narrowest_tape
    return _narrow(pieces, limit, "Strip", "Widen it, or cut it by hand.")


def _narrow_paper(case: Case, material: str, pieces: Sequence[Piece]) -> list[Caution]:
    if material == "patches":
        return []
    limit = case.profile.cutter.smallest_feature
    return _narrow(pieces, limit, "Piece", "Widen it, or it tears when you peel it off.")


def _narrow(pieces: Sequence[Piece], limit: float, noun: str, remedy: str) -> list[Caution]:
    """Pieces with a place narrower than a limit."""
    if not pieces:
        return []
    bad = narrow(np.array([piece.area for piece in pieces], dtype=object), limit)
    found = []
    for piece in (piece for piece, is_bad in zip(pieces, bad.tolist(), strict=True) if is_bad):
        width = smallest_feature([piece.area], limit) or 0.0
        found.append(
            Caution(
                "feature",
                (piece.label,),
                _narrow_place(piece.area, limit),
                f"{noun} {piece.label} is only {_two(width)} mm wide at one place; the knife "
                f"wants {figure(limit)}.",
                remedy,
            )
        )
    return found


def _narrow_place(area: Polygon, width: float) -> tuple[float, float]:
    """The middle of the largest part that is narrower than a width."""
    opened = area.buffer(-width / 2.0, join_style="mitre").buffer(width / 2.0, join_style="mitre")
    parts: Iterable[Polygon] = shapely.get_parts(area.difference(opened))
    largest = max((p for p in parts if p.area > CORNER), key=lambda p: float(p.area), default=area)
    point = largest.representative_point()
    return (float(point.x), float(point.y))


def _small_holes(case: Case, material: str, pieces: Sequence[Piece]) -> list[Caution]:
    """Holes that the knife cannot turn in."""
    limit = case.profile.cutter.smallest_hole
    holes = [(p, Polygon(ring)) for p in pieces for ring in p.area.interiors]
    if not holes:
        return []
    areas = np.array([hole for _, hole in holes], dtype=object)
    small = shapely.is_empty(shapely.buffer(areas, -limit / 2.0 + 0.002))
    tight = [holes[k] for k in np.flatnonzero(small).tolist()]
    if not tight:
        return []
    widths = [2.0 * float(shapely.maximum_inscribed_circle(hole).length) for _, hole in tight]
    point = tight[int(np.argmin(widths))][1].representative_point()
    many = "A hole" if len(tight) == 1 else f"{len(tight)} holes"
    verb = "is" if len(tight) == 1 else "are"
    spread = _two(min(widths)) + (f" to {_two(max(widths))}" if len(tight) > 1 else "")
    return [
        Caution(
            "hole",
            tuple(dict.fromkeys(piece.label for piece, _ in tight)),
            (float(point.x), float(point.y)),
            f"{many} in {NAMES.get(material, material)} {verb} only {spread} mm wide; the knife "
            f"wants {figure(limit)}.",
            "Make them larger, or prick them."
            if len(tight) > 1
            else "Make it larger, or prick it.",
        )
    ]


def _two(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
