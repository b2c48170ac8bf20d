"""Export: a checked card as files for an electronic cutter."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

import shapely
from shapely.geometry.base import BaseGeometry

from ..errors import UnfinishedCard, UnknownChoice
from ..export.arranging import (
    Frame,
    corner_marks,
    frame_around,
    layered,
    placed,
    tape_sheets,
)
from ..export.cautions import cutter_cautions
from ..export.cleaning import cut_areas, with_areas, without_needless
from ..export.cut import Cut, Outline, Piece
from ..export.dxf import to_dxf
from ..export.guides import guide_outlines
from ..export.lettering import names_on
from ..export.packing import Packed, Stock, pack
from ..export.pieces import relabelled, strips_as_pieces, whole_pieces
from ..export.scoring import score_lines
from ..export.sheets import Offer, sheets_of
from ..export.tracing import trace
from ..export.trial import SIDE, trial_pieces
from ..language import decimal, say
from ..model.card import Card
from ..model.case import Case
from ..model.drawing import Drawing
from ..model.finding import Finding
from ..profiles import Profile
from ..profiles.materials import Cutter
from ..records import record
from ..rules import check_all, check_stops
from .accepting import split_accepted
from .exporting import Made, figures, files_of, stem_of
from .exporting_words import closing_words, leftover_words, stop_words, summary_words
from .report import build_report
from .validate import case_of, verdict_of

FORMATS = ("svg", "dxf", "dxf-r12")
ARRANGEMENTS = ("in-place", "packed")
PIECES = ("strips", "whole")

#: More cards than this are no order for a desk (copies).
MOST_COPIES = 500

#: Sheets that lie on the circuit's side of the base, mirrored where that is its back.
ON_CIRCUIT = frozenset({"base", "patches", "foam", "cover"})


@record
class Choices:
    """What the maker asks for; words as in the drawing conventions."""

    formats: tuple[str, ...] = ("svg", "dxf")
    arrange: str = "in-place"
    pieces: str = "strips"
    copies: int = 1
    anyway: bool = False
    offer: bool = True


@record
class Export:
    """What exporting gives: `files` maps names, that all begin with `stem`, to bytes.

    The report is made when it is first asked for: its figures take a tenth of a large card's time.
    """

    stem: str
    files: Mapping[str, bytes]
    make_report: Callable[[], dict[str, object]]
    message: str
    select: tuple[str, ...] = ()
    removed: tuple[str, ...] = ()
    stay: tuple[str, ...] = ()

    @cached_property
    def report(self) -> dict[str, object]:
        """The report, ready for JSON."""
        report = self.make_report()
        told = report.get("export")
        if isinstance(told, dict):
            told |= {"removed": list(self.removed), "left_over": list(self.stay)}
        return report

    @property
    def summary(self) -> str:
        """Plain text for a shell."""
        return summary_words(self.message, self.files)

    def beside(self, removed: Sequence[str], stay: Sequence[str]) -> Export:
        """The same, with words on files of an earlier export: `removed`, or no part of this."""
        words = "\n".join(line for line in (self.message, leftover_words(removed, stay)) if line)
        return replace(self, message=words, removed=tuple(removed), stay=tuple(stay))


def read_choices(
    formats: str, arrange: str, pieces: str, copies: int, anyway: bool, offer: bool
) -> Choices:
    """Choices from the words of a shell or dialog. Raises UnknownChoice."""
    asked = tuple(dict.fromkeys(word.strip() for word in formats.split(",") if word.strip()))
    for word in asked:
        _one_of("--formats", word, FORMATS)
    if not asked:
        known = ", ".join(FORMATS)
        raise UnknownChoice(say("--formats names one or more of {known}.", known=known))
    _one_of("--arrange", arrange, ARRANGEMENTS)
    _one_of("--pieces", pieces, PIECES)
    if not 1 <= copies <= MOST_COPIES:
        raise UnknownChoice(
            say(
                "--copies is a number from 1 to {most}, not {copies}.",
                most=MOST_COPIES,
                copies=copies,
            )
        )
    return Choices(asked, arrange, pieces, copies, anyway, offer)


def _one_of(option: str, word: str, known: Sequence[str]) -> None:
    if word not in known:
        raise UnknownChoice(
            say(
                "{option} is one of {known}, not {word}.",
                option=option,
                known=", ".join(known),
                word=word or say("nothing"),
            )
        )


def export(drawing: Drawing, profile: Profile, choices: Choices) -> Export:
    """Files of a card. Raises UnfinishedCard without tape, and with a stop unless told to go on."""
    case = case_of(drawing, profile)
    stops, _ = split_accepted(check_stops(case), case.card, drawing.remembered)
    refuse_unfinished(case, stops, choices.anyway)
    made = make_cuts(case, choices)
    files = files_of(made, drawing.name, choices.formats)
    warnings = cutter_cautions(
        case,
        made.cuts,
        made.pieces,
        made.sheets,
        stock_of(profile.cutter),
        choices.arrange == "in-place",
        choices.pieces == "whole",
    )
    words = closing_words(made, stops, warnings)

    def report() -> dict[str, object]:
        findings, accepted = split_accepted(check_all(case), case.card, drawing.remembered)
        verdict = verdict_of(findings)
        told = build_report("export", drawing.name, case, findings, accepted, verdict)
        told["export"] = figures(case, made, choices.arrange, choices.pieces, files, warnings)
        return told

    return Export(stem_of(drawing.name), files, report, words)


def tape_copy(drawing: Drawing, profile: Profile) -> Export:
    """The tape as it lies on the card in one DXF, each sheet on a layer; for Save a Copy.

    Raises UnfinishedCard as `export` does: here nobody can be told to go on.
    """
    case = case_of(drawing, profile)
    stops, _ = split_accepted(check_stops(case), case.card, drawing.remembered)
    refuse_unfinished(case, stops, False)
    made = make_cuts(case, Choices(formats=("dxf",), offer=False))
    return Export("", {"tape.dxf": to_dxf(made.tape, "dxf")}, dict, "")


def refuse_unfinished(case: Case, stops: Sequence[Finding], anyway: bool) -> None:
    """Raise where there is nothing to cut, or a fault that makes cutting a waste."""
    if not case.card.strips:
        raise UnfinishedCard(say("There is no tape on this card, so there is nothing to cut yet."))
    if not stops or anyway:
        return
    raise UnfinishedCard(
        say(
            "This card is not ready to be cut. {faults} Validate my card (menu entry 5) marks "
            "every fault. To cut all the same, tick Cut anyway in Cutter files (--anyway true).",
            faults=stop_words(stops),
        )
    )


def make_cuts(case: Case, choices: Choices) -> Made:
    """Everything that shall be cut or drawn, sheet by sheet."""
    cutter = case.profile.cutter
    areas = cut_areas(case, cutter.corner_radius)
    drawn = strips_as_pieces if choices.pieces == "strips" else whole_pieces
    pieces = drawn(case, areas)
    mirrored = case.card.side == "back"
    offer = Offer(cutter.glue_margin, cutter.lens_clearance) if choices.offer else None
    others = sheets_of(case.card, offer)
    marks = corner_marks(case.card.base, [piece.area for piece in pieces])
    guides = guide_outlines(case)
    frame = _frame(pieces, marks, others, guides, cutter.margin, mirrored)
    if choices.arrange == "in-place":
        tape = _in_place(pieces, marks, frame, cutter)
        copies = 1
    else:
        tape = _packed(pieces, choices.copies, cutter, mirrored)
        copies = choices.copies
    return Made(
        tape=tuple(tape),
        others=(
            *_others(case.card, others, frame, cutter.overcut),
            _guides(guides, frame),
            *(_names(tape) if choices.arrange == "packed" else ()),
            _trial(case),
        ),
        pieces=tuple(pieces),
        sheets=tuple((material, tuple(members)) for material, members in others),
        card=with_areas(case.card, areas),
        copies=choices.copies,
        copied=copies,
        frame=frame,
        marks=len(marks) if choices.arrange == "in-place" else 0,
    )


def _frame(
    pieces: Sequence[Piece],
    marks: Sequence[Piece],
    others: Sequence[tuple[str, Sequence[Piece]]],
    guides: Sequence[Outline],
    margin: float,
    mirrored: bool,
) -> Frame:
    areas: list[BaseGeometry] = [piece.area for piece in (*pieces, *marks)]
    areas += [piece.area for _, members in others for piece in members]
    areas += [_line(ring) for outline in guides for ring in outline.rings]
    return frame_around(areas, margin, mirrored)


def _line(ring: object) -> BaseGeometry:
    return shapely.linestrings(ring)


def _in_place(
    pieces: Sequence[Piece], marks: Sequence[Piece], frame: Frame, cutter: Cutter
) -> list[Cut]:
    """Sheets of tape that carry the layout as it lies on the card."""
    numbers: dict[str, int] = {}
    cuts = []
    for material, members in tape_sheets(pieces):
        numbers[material] = numbers.get(material, 0) + 1
        cuts.append(
            trace(
                material,
                numbers[material],
                (frame.width, frame.height),
                placed([*members, *marks], frame),
                cutter.overcut,
                frame.mirrored,
            )
        )
    return cuts


def stock_of(cutter: Cutter) -> Stock:
    """What of a sheet or roll may be used."""
    roll = cutter.roll_width > 0.0
    width = cutter.roll_width if roll else cutter.sheet[0]
    height = cutter.roll_length if roll else cutter.sheet[1]
    edge = 2.0 * cutter.margin
    if width <= edge or height <= edge:
        raise UnknownChoice(
            say(
                "The profile's sheet of {width} x {height} mm has no room inside its margin of "
                "{margin} mm.",
                width=decimal(f"{width:g}"),
                height=decimal(f"{height:g}"),
                margin=decimal(f"{cutter.margin:g}"),
            )
        )
    return Stock(width - edge, height - edge, cutter.margin, cutter.weeding_gap, roll)


def _packed(pieces: Sequence[Piece], copies: int, cutter: Cutter, mirrored: bool) -> list[Cut]:
    """Sheets of tape with the pieces of every copy nested on them."""
    if mirrored:
        flip = Frame(0.0, 0.0, 0.0, 0.0, True)
        pieces = placed(pieces, flip)
    many = [relabelled(piece, copy, copies) for copy in range(1, copies + 1) for piece in pieces]
    sheets: list[Packed] = pack(many, stock_of(cutter))
    return [
        trace("tape", number, sheet.size, sheet.pieces, cutter.overcut, mirrored)
        for number, sheet in enumerate(sheets, 1)
    ]


def _others(
    card: Card, sheets: Sequence[tuple[str, Sequence[Piece]]], frame: Frame, overcut: float
) -> list[Cut]:
    cuts = []
    for material, pieces in sheets:
        own = frame if material in ON_CIRCUIT else replace(frame, mirrored=False)
        clean = without_needless([piece.area for piece in pieces])
        lean = [replace(piece, area=area) for piece, area in zip(pieces, clean, strict=True)]
        size = (frame.width, frame.height)
        for number, layer in enumerate(layered(lean), 1):
            cut = trace(material, number, size, placed(layer, own), overcut, own.mirrored)
            cuts.append(replace(cut, scores=score_lines(card, material, layer, own)))
    return cuts


def _guides(outlines: Sequence[Outline], frame: Frame) -> Cut:
    moved = tuple(
        Outline(outline.label, tuple(frame.carry(ring) for ring in outline.rings))
        for outline in outlines
    )
    size = (frame.width, frame.height)
    return Cut("guides", 1, size, moved, (), pen=True, mirrored=frame.mirrored)


def _names(tape: Sequence[Cut]) -> list[Cut]:
    """For the pen, or to look at: the names of the pieces of each packed sheet."""
    return [
        Cut("guides", number, cut.size, tuple(names_on(cut.pieces)), (), pen=True)
        for number, cut in enumerate(tape, 2)
    ]


def _trial(case: Case) -> Cut:
    """Cut with the tape and the light of this card."""
    profile = case.profile
    types = [light.type for light in case.card.lights if light.type in profile.lights]
    kind = profile.lights[types[0] if types else next(iter(profile.lights))]
    pieces = trial_pieces(profile.tape.width, kind.body)
    return trace("test-cut", 1, (SIDE + 10.0, SIDE + 10.0), _shifted(pieces, 5.0))


def _shifted(pieces: Sequence[Piece], by: float) -> list[Piece]:
    return placed(pieces, Frame(-by, -by, 0.0, 0.0, False))
