"""What may go wrong at the cutter: named, with figures and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce

import numpy as np
import shapely

from ..language import figure, joined, later, say
from ..model.case import Case
from .caution import Caution, piece_name, sheet_name
from .cut import Cut, Piece
from .narrow_places import narrow_paper, narrow_slots, narrow_tape, small_holes
from .packing import Stock, fits_on, upright_area
from .splitting import split_places

Size = tuple[float, float]


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
        *narrow_tape(case, pieces),
        *narrow_slots(case, pieces),
    ]
    for material, members in [("tape", pieces), *others]:
        found += narrow_paper(case, material, members)
        found += small_holes(case, material, members)
    return tuple(found)


def _by(size: Size) -> str:
    return say("{width} x {height} mm", width=figure(size[0]), height=figure(size[1]))


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
    text = later(
        "The layout with its corner marks takes {size}, but your sheet of tape has {room} inside "
        "its margin."
    )
    if stock.roll:
        text = later(
            "The layout with its corner marks takes {size}, but your roll of tape has {room} "
            "inside its margin."
        )
    return [
        Caution(
            "sheet",
            tuple(cut.name for cut in too_large),
            None,
            say(text, size=_by(size), room=_by((stock.width, stock.height))),
            say("Pack the tape instead, or take a larger sheet and say so in your profile."),
        )
    ]


def _mat(case: Case, cuts: Sequence[Cut]) -> list[Caution]:
    """Sheets that are more than the cutter takes in one go, all in one."""
    mat = case.profile.cutter.mat
    limit = Stock(mat[0], mat[1], 0.0, 0.0, False)
    sizes = {cut: _content(cut) for cut in cuts if cut.outlines}
    large = [(cut, size) for cut, size in sizes.items() if not fits_on(size, limit)]
    if not large:
        return []
    named = [f"{_sheet_name(cut)} ({_by(size)})" for cut, size in large]
    return [
        Caution(
            "mat",
            tuple(cut.name for cut, _ in large),
            None,
            say(
                "Larger than your cutter's mat of {mat}: {sheets}.",
                mat=_by(mat),
                sheets=joined(named),
            ),
            say("Use a longer mat and say so in your profile, or cut by hand."),
        )
    ]


def _sheet_name(cut: Cut) -> str:
    return sheet_name(cut.material, cut.name) if cut.number == 1 else cut.name


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
        if stock.roll and max(size) <= stock.height + 1e-6:
            found.append(_curved(piece, min(size), stock))
        else:
            found.append(_piece_too_long(case, piece, size, stock))
    return found


def _curved(piece: Piece, across: float, stock: Stock) -> Caution:
    return Caution(
        "curved",
        (piece.label,),
        _middle(piece),
        say(
            "{piece} bends and needs {across} mm across; your roll has {width} mm inside its "
            "margin.",
            piece=piece_name(piece),
            across=figure(across),
            width=figure(stock.width),
        ),
        say("Cut it from sheet, or straighten it."),
    )


def _piece_too_long(case: Case, piece: Piece, size: Size, stock: Stock) -> Caution:
    places = _places(case, piece, stock)
    text = later("{piece} takes {size}; your sheet of tape has {room} inside its margin.")
    if stock.roll:
        text = later("{piece} takes {size}; your roll of tape has {room} inside its margin.")
    room = _by((stock.width, stock.height))
    return Caution(
        "piece-too-long",
        (piece.label,),
        places[0] if places else _middle(piece),
        say(text, piece=piece_name(piece), size=_by(size), room=room),
        _split_words(case, piece, places),
    )


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
        return say("Cut the tape in single strips.")
    if not places:
        return say("Divide it where it runs straight, or take a larger sheet.")
    where = [say("{x}, {y} mm", x=figure(x), y=figure(y)) for x, y in places]
    width = next(s.width for s in case.card.strips if (s.name,) == piece.strips)
    overlap = figure(case.profile.limits.aim_joint * width)
    return say(
        "Draw it as {number} strips: divide it at {places}, with an overlap of {overlap} mm.",
        number=len(places) + 1,
        places=reduce(_and, where),
        overlap=overlap,
    )


def _and(first: str, last: str) -> str:
    """Places have commas of their own."""
    return say("{first} and {last}", first=first, last=last)


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
                    say(
                        "Shape {name} is {length} mm long; over {limit} mm tape stretches and "
                        "creases when it is laid.",
                        name=piece.label,
                        length=figure(length),
                        limit=figure(limit),
                    ),
                    say("Carry it over with transfer film, or cut single strips.")
                    if len(piece.strips) > 1
                    else say("Carry it over with transfer film."),
                )
            )
    return found
