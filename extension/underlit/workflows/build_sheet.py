"""Build sheet: a card as a document to print, and what it takes to make a number of cards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from .. import __version__
from ..colours.palette import Palette
from ..errors import UnknownChoice
from ..language import say, say_count
from ..model.case import Case
from ..model.drawing import Drawing
from ..model.finding import Finding
from ..profiles import Profile
from ..records import record
from ..rules import check_all
from ..sheet.book import book_of
from ..sheet.content import Book
from ..sheet.fonts import printable
from ..sheet.kinds import KINDS
from ..sheet.notes import lacking
from ..sheet.paper import Paper, read_paper
from ..sheet.pdf import to_pdf
from ..sheet.prices import read_prices, to_csv
from ..sheet.scene import Scene, scene_of
from ..sheet.steps import Step, steps_of
from ..sheet.supplies import Supplies, figures, supplies_of
from ..sheet.svg import to_svg
from ..sheet.true_size import printed
from .accepting import split_accepted
from .colouring import (
    Wanted,
    fronts_of,
    letters_of,
    palette_figures,
    palette_for,
    palette_words,
    read_wanted,
)
from .report import build_report
from .telling import finding_lines, tally
from .validate import case_of, verdict_of

#: More cards than this are no order for a desk.
MOST_COPIES = 500

#: The word of `--pages` for the page to share; alone it means that page and no sheet.
SHARE = "share"


@record
class Choices:
    """What the maker asks for."""

    paper: Paper
    copies: int
    kinds: tuple[str, ...]
    prices: Mapping[str, float] | None = None
    #: whether the sheet is made, and the page to share
    sheet: bool = True
    share: bool = True
    #: a colour plan, where one is asked for
    wanted: Wanted | None = None


@record
class BuildSheet:
    """What making a sheet gives: `files` maps names to bytes, nothing is written yet."""

    files: Mapping[str, bytes]
    report: dict[str, object]
    summary: str
    message: str
    select: tuple[str, ...] = ()


def read_choices(
    paper: str, copies: str, pages: str, prices: tuple[bytes, str] | None = None,
    colours: str = "", refill: str = "unlit",
) -> Choices:  # fmt: skip
    """Choices from the words of a shell or dialog. Raises UnknownChoice, UnreadablePrices.

    `prices` is the content of a price list and its name; for `colours` and `refill` see
    `colours.paints` and `colours.places`.
    """
    try:
        number = int(copies)
    except ValueError:
        number = 0
    if not 1 <= number <= MOST_COPIES:
        raise UnknownChoice(
            say(
                "--copies is a whole number from 1 to {most}, not {copies}.",
                most=MOST_COPIES,
                copies=copies,
            )
        )
    words = [word.strip() for word in pages.split(",") if word.strip()]
    for word in words:
        if word not in (*KINDS, SHARE, "all", "none"):
            named = ", ".join((*KINDS, SHARE))
            raise UnknownChoice(
                say("--pages names {named}, all or none, not {word}.", named=named, word=word)
            )
    every = "all" in words or not words
    kinds = tuple(KINDS) if every else tuple(k for k in KINDS if k in words)
    known = read_prices(*prices) if prices is not None else None
    return Choices(
        read_paper(paper), number, kinds, known,
        sheet=set(words) != {SHARE}, share=every or SHARE in words,
        wanted=read_wanted(colours, refill),
    )  # fmt: skip


def build_sheet(drawing: Drawing, profile: Profile, choices: Choices) -> BuildSheet:
    """Pages, supplies and report of a card; no files where there is no sheet to lay anything on."""
    case = case_of(drawing, profile)
    findings, accepted = split_accepted(check_all(case), case.card, drawing.remembered)
    verdict = verdict_of(findings)
    report = build_report("build-sheet", drawing.name, case, findings, accepted, verdict)
    if case.card.base.is_empty and not case.card.panels:
        report["supplies"] = None
        words = say(
            "There is neither a front nor a back sheet on this drawing, so nothing was printed."
        )
        return BuildSheet({}, report, _summary(words, findings), words)
    scene = scene_of(case)
    palette = palette_for(case, scene, choices.wanted, choices.copies)
    supplies = supplies_of(scene, choices.paper, choices.copies, choices.prices, fronts_of(palette))
    steps = _steps(scene, choices, palette)
    name = _stem(drawing.name)
    files: dict[str, bytes] = {}
    book = None
    if choices.sheet:
        book = _book(scene, supplies, findings, steps, name, drawing.name, choices, palette)
        listed = "supplies" if choices.prices is None else "costs"
        files = {
            f"{name}-build-sheet.pdf": to_pdf(book, f"Underlit {__version__}"),
            f"{name}-build-sheet.svg": to_svg(book),
            f"{name}-{listed}.csv": to_csv(supplies),
        }
    report["supplies"] = {
        **figures(supplies), "pages": len(book.pages) if book else 0, "files": list(files),
        "colours": palette_figures(palette),
    }  # fmt: skip
    told = ""
    if choices.share:
        from .sharing import share_page  # late: the glow is not needed without it

        shared = share_page(case, scene, supplies, findings, steps, name, drawing.name)
        files[shared.name] = shared.data
        report["share"] = shared.figures
        told = shared.words
    said = (lacking(scene), _unpriced(supplies, choices), *palette_words(palette, choices.sheet))
    remarks = [text for text in said if text]
    words = _words(case, book, findings, remarks, told)
    return BuildSheet(files, report, _summary(words, findings, files), words)


def _steps(scene: Scene, choices: Choices, palette: Palette | str | None) -> list[Step]:
    """The steps, told with what is made beside them: without the sheet neither plan nor colours."""
    if not choices.sheet:
        return steps_of(scene, printed=())
    return steps_of(scene, letters_of(palette), printed(scene, choices.paper, choices.kinds))


def _unpriced(supplies: Supplies, choices: Choices) -> str | None:
    """A price list that is about something else altogether."""
    if not choices.prices or any(line.price is not None for line in supplies.lines):
        return None
    named = next(iter(choices.prices))
    return say(
        "No price was taken: nothing on this card is called {item} or anything else in your price "
        "list. Its column item must hold the words of the supplies file.",
        item=named,
    )


def _book(
    scene: Scene, supplies: Supplies, findings: Sequence[Finding], steps: Sequence[Step],
    name: str, drawing: str, choices: Choices, palette: Palette | str | None,
) -> Book:  # fmt: skip
    plan = palette if isinstance(palette, Palette) else None
    shown = printable(name)
    if shown != name:
        drawing = f"{shown}.svg" if shown else say("your drawing")
    card = shown or say("Your card")
    footer = say(
        "Underlit {version}, from {drawing}. An estimate from a drawing: local rules, emergency "
        "services and the maker of your battery come first.",
        version=__version__,
        drawing=drawing,
    )
    return book_of(
        scene, choices.paper, card, supplies, findings, choices.kinds, footer, steps, plan
    )


def _stem(name: str) -> str:
    stem = name[:-4] if name.lower().endswith(".svg") else name
    return stem or "card"


def _words(
    case: Case,
    book: Book | None,
    findings: Sequence[Finding],
    remarks: Sequence[str],
    shared: str,
) -> str:
    lines = []
    if book is not None:
        lines.append(
            say_count(
                "{number} page saved. Measure the 100 mm line before you cut.",
                "{number} pages saved. Measure the 100 mm line before you cut.",
                len(book.pages),
            )
        )
    if shared:
        lines.append(shared)
    lines += remarks
    faults = tally(findings)
    if any(finding.severity == "stop" for finding in findings):
        lines.append(say("Every page is marked NOT READY: {faults}.", faults=faults))
    elif faults and book is not None:
        lines.append(say("{faults}, on the last page.", faults=faults))
    elif faults:
        lines.append(say("{faults}, all on the page.", faults=faults))
    if case.card.cells:
        lines.append(say("Keep coin batteries away from children."))
    return "\n".join(lines)


def _summary(
    words: str, findings: Sequence[Finding], files: Mapping[str, bytes] | None = None
) -> str:
    lines = [words, *(f"  {name}" for name in files or ())]
    faults = [finding for finding in findings if finding.severity != "note"]
    return "\n".join([*lines, *finding_lines(faults)])
