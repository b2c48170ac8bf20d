"""Files, figures and words of an export."""

from __future__ import annotations

import os.path
from collections.abc import Mapping, Sequence
from dataclasses import replace

from ..connectivity.contacts import conductors_of
from ..connectivity.gaps import smallest_gap
from ..export.arranging import Frame
from ..export.caution import Caution
from ..export.cut import Cut, Piece
from ..export.dxf import to_dxf
from ..export.measuring import smallest_feature, smallest_spacing
from ..export.signing import signed
from ..export.svg import to_svg
from ..language import say
from ..model.card import Card
from ..model.case import Case
from ..model.circuit import Circuit
from ..records import record
from .report import rounded

#: What files are headed with where the drawing has no name yet.
UNNAMED = "card"


@record
class Made:
    """Everything that shall be cut or drawn.

    `tape` are the sheets of tape in laying order; `pieces` the pieces of one card and `sheets`
    those of its other materials, in page mm; `card` the card with its strips as they are cut;
    `copied`: how many cards the sheets of tape hold; `frame` what of the page every sheet but the
    packed ones shows.
    """

    tape: tuple[Cut, ...]
    others: tuple[Cut, ...]
    pieces: tuple[Piece, ...]
    sheets: tuple[tuple[str, tuple[Piece, ...]], ...]
    card: Card
    copies: int
    copied: int
    frame: Frame
    marks: int

    @property
    def mirrored(self) -> bool:
        return self.frame.mirrored

    @property
    def cuts(self) -> tuple[Cut, ...]:
        return self.tape + self.others


def stem_of(name: str) -> str:
    """lantern.svg -> lantern."""
    return os.path.splitext(name)[0] or UNNAMED


def files_of(made: Made, name: str, formats: Sequence[str]) -> dict[str, bytes]:
    """File name -> bytes. R12 gets a name of its own only beside the newer DXF."""
    stem = stem_of(name)
    files: dict[str, bytes] = {}
    for cut in made.cuts:
        base = f"{stem}-{cut.name}"
        for word in formats:
            if word == "svg":
                file, data = f"{base}.svg", to_svg(cut, title_of(cut, stem))
            else:
                both = word == "dxf-r12" and "dxf" in formats
                file, data = f"{base}{'-r12' if both else ''}.dxf", to_dxf([cut], word)
            files[file] = signed(data, file)
    return files


def title_of(cut: Cut, stem: str) -> str:
    """What heads a file."""
    title = f"{stem}: {cut.name}"
    return say("{title} (back side: mirrored)", title=title) if cut.mirrored else title


def figures(
    case: Case,
    made: Made,
    arrange: str,
    pieces: str,
    files: Mapping[str, bytes],
    warnings: Sequence[Caution],
) -> dict[str, object]:
    """The report's `export`."""
    tape = [piece.area for piece in made.pieces]
    gap = _gap(case.circuit, made.card, case)
    spacings = [smallest_spacing([piece.area for piece in cut.pieces]) for cut in made.tape]
    known = [value for value in spacings if value is not None]
    widest = min([20.0, *(strip.width for strip in made.card.strips)])
    feature = smallest_feature(tape, widest)
    return {
        "arrange": arrange,
        "pieces_as": pieces,
        "copies": made.copies,
        "mirrored": made.mirrored,
        "origin": [rounded(made.frame.left), rounded(made.frame.top)],
        "files": list(files),
        "sheets": [_sheet(cut) for cut in made.cuts],
        "laying_order": [cut.name for cut in made.tape] if arrange == "in-place" else [],
        "pieces": [_piece(piece, cut) for cut in made.tape for piece in cut.pieces],
        "area": rounded(sum(area.area for area in tape) * made.copied),
        "sheet_use": _use(made.tape),
        "cut_length": rounded(sum(cut.length for cut in made.tape)),
        "smallest_gap": None if gap is None else rounded(gap),
        "smallest_spacing": rounded(min(known)) if known else None,
        "smallest_feature": None if feature is None else rounded(feature),
        "corner_marks": made.marks,
        "warnings": [
            {
                "about": w.about,
                "pieces": list(w.pieces),
                "at": None if w.at is None else [rounded(v) for v in w.at],
                "message": w.message,
                "remedy": w.remedy,
            }
            for w in warnings
        ],
    }


def _gap(circuit: Circuit, card: Card, case: Case) -> float | None:
    """Smallest distance between plus and minus as cut."""
    return smallest_gap(replace(circuit, conductors=conductors_of(card)), card, case.signs)


def _sheet(cut: Cut) -> dict[str, object]:
    return {
        "name": cut.name,
        "material": cut.material,
        "size": [rounded(cut.size[0]), rounded(cut.size[1])],
        "pieces": len(cut.pieces),
        "outlines": sum(len(outline.rings) for outline in cut.outlines),
        "area": rounded(cut.area),
        "cut_length": rounded(cut.length),
        "travel": rounded(cut.travel),
        "scores": len(cut.scores),
        "pen": cut.pen,
        "mirrored": cut.mirrored,
        "offered": cut.offered,
    }


def _piece(piece: Piece, cut: Cut) -> dict[str, object]:
    left, top, right, bottom = piece.area.bounds
    return {
        "label": piece.label,
        "strips": list(piece.strips),
        "polarity": piece.sign or "none",
        "copy": piece.copy,
        "order": piece.order,
        "sheet": cut.name,
        "at": [rounded(left), rounded(top)],
        "size": [rounded(right - left), rounded(bottom - top)],
        "area": rounded(piece.area.area),
    }


def _use(tape: Sequence[Cut]) -> float:
    """Area of tape over area of all sheets of tape."""
    whole = sum(cut.size[0] * cut.size[1] for cut in tape)
    return round(sum(cut.area for cut in tape) / whole, 3) if whole else 0.0
