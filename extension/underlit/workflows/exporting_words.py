"""What is said of an export: what lies there, what to know before cutting, what may go wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..export.caution import Caution
from ..language import figure, joined, later, say, say_count
from ..model.finding import Finding
from .exporting import Made

#: So many cautions of one kind are said in full; the report has all.
SAID = 4

#: What is said of what was offered: one of them, both.
OFFERED = {
    ("cover",): later(
        "You have drawn no cover: the file {files} is my proposal, cut from the windows."
    ),
    ("diffuser",): later(
        "You have drawn no vellum: the file {files} is my proposal, cut from the windows."
    ),
    ("cover", "diffuser"): later(
        "You have drawn no cover and no vellum: the files {files} are my proposals, cut from the "
        "windows."
    ),
}


def stop_words(stops: Sequence[Finding]) -> str:
    """What keeps a card from being cut: the first fault in full, how many more there are."""
    first, more = stops[0], len(stops) - 1
    words = f"{first.message} {first.remedy}"
    if first.at is not None:
        x, y = map(figure, first.at)
        words = say("At {x}, {y} mm: {fault}", x=x, y=y, fault=words)
    if more:
        others = say_count("There is {number} more fault.", "There are {number} more faults.", more)
        words = f"{words} {others}"
    codes = ", ".join(dict.fromkeys(stop.rule for stop in stops))
    return f"{words} [{codes}]"


def closing_words(made: Made, stops: Sequence[Finding], warnings: Sequence[Caution]) -> str:
    """What is said when the files are written."""
    lines = [" ".join((_made(made), say("Cut the test-cut file first.")))]
    if stops:
        lines.append(
            say(
                "You told me to go on although the card is not ready: {faults}",
                faults=stop_words(stops),
            )
        )
    if made.mirrored:
        lines.append(
            say(
                "The circuit is on the back: tape, patches, back sheet and guides are mirrored, "
                "as you see them from behind."
            )
        )
    lines += [*_copies(made), *_order(made), *_names(made), *_scores(made), *_offered(made)]
    return "\n".join([*lines, *_cautions(warnings)])


def _made(made: Made) -> str:
    number = len(made.pieces) * made.copied
    pieces = say_count("{number} piece", "{number} pieces", number)
    if made.copied == 1:
        return say_count(
            "{number} sheet of tape with {pieces}.",
            "{number} sheets of tape with {pieces}.",
            len(made.tape),
            pieces=pieces,
        )
    return say_count(
        "{number} sheet of tape with {pieces} for {cards} cards.",
        "{number} sheets of tape with {pieces} for {cards} cards.",
        len(made.tape),
        pieces=pieces,
        cards=made.copied,
    )


def _copies(made: Made) -> list[str]:
    if made.copies == 1:
        return []
    if made.copied == 1:
        return [say("For {number} cards cut every file {number} times.", number=made.copies)]
    return [
        say(
            "The other materials are for one card each: cut their files {number} times.",
            number=made.copies,
        )
    ]


def _order(made: Made) -> list[str]:
    """In which order the sheets are laid."""
    if _named(made) or len(made.tape) < 2:
        return []
    sheets = say(", then ").join(cut.name for cut in made.tape)
    words = say("Some strips lie over others: lay {sheets}.", sheets=sheets)
    if any(material == "patches" for material, _ in made.sheets):
        words += " " + say("A patch goes on before the strip that lies over it.")
    return [words]


def _names(made: Made) -> list[str]:
    """What the pen writes on packed pieces."""
    named = _named(made)
    if not named:
        return []
    means = say("P1 is the first plus strip, M1 the first minus strip")
    if made.copied > 1:
        means = say("P1-2 is the first plus strip of card 2")
    return [
        say_count(
            "{first} writes the names on the pieces of tape: {means}.",
            "{first} to {last} write the names on the pieces of tape: {means}.",
            len(named),
            first=named[0],
            last=named[-1],
            means=means,
        )
    ]


def _named(made: Made) -> list[str]:
    """The sheets of names: only packed tape has them."""
    return [cut.name for cut in made.others if cut.material == "guides" and cut.number > 1]


def _scores(made: Made) -> list[str]:
    scored = [cut.name for cut in made.others if cut.scores]
    if not scored:
        return []
    return [
        say(
            "Score the red lines in {files} (layer SCORE in a DXF); do not cut them.",
            files=_all(scored),
        )
    ]


def _offered(made: Made) -> list[str]:
    offered = tuple(dict.fromkeys(cut.material for cut in made.others if cut.offered))
    told = [say(OFFERED[offered], files=_all(offered))] if offered else []
    if not made.card.base_drawn and any(cut.material == "base" for cut in made.others):
        told.append(say("No back sheet is drawn: the file base has the panel's outline."))
    return told


def _all(names: Sequence[str]) -> str:
    """a and b and c."""
    words = names[0]
    for name in names[1:]:
        words = joined([words, name])
    return words


def _cautions(warnings: Sequence[Caution]) -> list[str]:
    """Cautions in full, but of one kind no more than a few."""
    lines: list[str] = []
    for about in dict.fromkeys(w.about for w in warnings):
        alike = [w for w in warnings if w.about == about]
        lines += [f"{w.message} {w.remedy}" for w in alike[:SAID]]
        if len(alike) > SAID:
            lines.append(say("The same holds for {number} more.", number=len(alike) - SAID))
    return lines


def leftover_words(removed: Sequence[str], stay: Sequence[str]) -> str:
    """What is said of files from an earlier export."""
    lines = []
    if removed:
        lines.append(
            say("Removed, from an earlier export with more sheets: {files}.", files=_some(removed))
        )
    if stay:
        lines.append(
            say_count(
                "Also in that folder: {files}. It is no part of this export: do not cut it by "
                "mistake.",
                "Also in that folder: {files}. They are no part of this export: do not cut them by "
                "mistake.",
                len(stay),
                files=_some(stay),
            )
        )
    return "\n".join(lines)


def _some(names: Sequence[str]) -> str:
    """A few names, and how many more."""
    shown = list(names[:4]) if len(names) > 5 else list(names)
    if len(shown) < len(names):
        shown.append(say("{number} more", number=len(names) - len(shown)))
    return joined(shown)


def summary_words(words: str, files: Mapping[str, bytes]) -> str:
    """A short list for a shell."""
    return "\n".join([words, *files])
