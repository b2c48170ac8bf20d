"""What is said of an export: what lies there, what to know before cutting, what may go wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..export.caution import Caution
from ..model.finding import Finding
from ..rules.wording import count, figure
from .exporting import Made

#: So many cautions of one kind are said in full; the report has all.
SAID = 4

#: What a maker calls what was offered.
OFFERED = {"cover": "cover", "diffuser": "vellum"}


def stop_words(stops: Sequence[Finding]) -> str:
    """What keeps a card from being cut: the first fault in full, how many more there are."""
    first = stops[0]
    at = "" if first.at is None else f"At {figure(first.at[0])}, {figure(first.at[1])} mm: "
    codes = ", ".join(dict.fromkeys(stop.rule for stop in stops))
    more = "" if len(stops) == 1 else f" There {_are(len(stops) - 1)}."
    return f"{at}{first.message} {first.remedy}{more} [{codes}]"


def _are(more: int) -> str:
    return "is 1 more fault" if more == 1 else f"are {more} more faults"


def closing_words(made: Made, stops: Sequence[Finding], warnings: Sequence[Caution]) -> str:
    """What is said when the files are written."""
    lines = [_made(made)]
    if stops:
        lines.append(f"You told me to go on although the card is not ready: {stop_words(stops)}")
    if made.mirrored:
        lines.append(
            "The circuit is on the back: tape, patches, back sheet and guides are mirrored, as "
            "you see them from behind."
        )
    lines += [*_copies(made), *_order(made), *_names(made), *_scores(made), *_offered(made)]
    return "\n".join([*lines, *_cautions(warnings)])


def _made(made: Made) -> str:
    sheets = count(len(made.tape), "sheet of tape", "sheets of tape")
    pieces = count(len(made.pieces) * made.copied, "piece", "pieces")
    cards = f" for {made.copied} cards" if made.copied > 1 else ""
    return f"{sheets} with {pieces}{cards}. Cut the test-cut file first."


def _copies(made: Made) -> list[str]:
    if made.copies == 1:
        return []
    if made.copied == 1:
        return [f"For {made.copies} cards cut every file {made.copies} times."]
    return [f"The other materials are for one card each: cut their files {made.copies} times."]


def _order(made: Made) -> list[str]:
    """In which order the sheets are laid."""
    if _named(made) or len(made.tape) < 2:
        return []
    names = ", then ".join(cut.name for cut in made.tape)
    patches = any(material == "patches" for material, _ in made.sheets)
    under = " A patch goes on before the strip that lies over it." if patches else ""
    return [f"Some strips lie over others: lay {names}.{under}"]


def _names(made: Made) -> list[str]:
    """What the pen writes on packed pieces."""
    named = _named(made)
    if not named:
        return []
    which = named[0] if len(named) == 1 else f"{named[0]} to {named[-1]}"
    verb = "writes" if len(named) == 1 else "write"
    means = "P1 is the first plus strip, M1 the first minus strip"
    if made.copied > 1:
        means = "P1-2 is the first plus strip of card 2"
    return [f"{which} {verb} the names on the pieces of tape: {means}."]


def _named(made: Made) -> list[str]:
    """The sheets of names: only packed tape has them."""
    return [cut.name for cut in made.others if cut.material == "guides" and cut.number > 1]


def _scores(made: Made) -> list[str]:
    scored = [cut.name for cut in made.others if cut.scores]
    if not scored:
        return []
    return [
        f"Score the red lines in {' and '.join(scored)} (layer SCORE in a DXF); do not cut them."
    ]


def _offered(made: Made) -> list[str]:
    offered = [cut.material for cut in made.others if cut.offered]
    if not offered:
        return []
    none = " and no ".join(OFFERED.get(material, material) for material in offered)
    one = len(offered) == 1
    files, are = ("the file", "is my proposal") if one else ("the files", "are my proposals")
    return [
        f"You have drawn no {none}: {files} {' and '.join(offered)} {are}, cut from the windows."
    ]


def _cautions(warnings: Sequence[Caution]) -> list[str]:
    """Cautions in full, but of one kind no more than a few."""
    lines: list[str] = []
    for about in dict.fromkeys(w.about for w in warnings):
        alike = [w for w in warnings if w.about == about]
        lines += [f"{w.message} {w.remedy}" for w in alike[:SAID]]
        if len(alike) > SAID:
            lines.append(f"The same holds for {count(len(alike) - SAID, 'more', 'more')}.")
    return lines


def leftover_words(removed: Sequence[str], stay: Sequence[str]) -> str:
    """What is said of files from an earlier export."""
    lines = []
    if removed:
        lines.append(f"Removed, from an earlier export with more sheets: {_some(removed)}.")
    if stay:
        one = "it is" if len(stay) == 1 else "they are"
        them = "it" if len(stay) == 1 else "them"
        lines.append(
            f"Also in that folder: {_some(stay)}. {one.capitalize()} no part of this export: do "
            f"not cut {them} by mistake."
        )
    return "\n".join(lines)


def _some(names: Sequence[str]) -> str:
    """A few names, and how many more."""
    shown = list(names[:4]) if len(names) > 5 else list(names)
    if len(shown) < len(names):
        shown.append(f"{len(names) - len(shown)} more")
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def summary_words(words: str, files: Mapping[str, bytes]) -> str:
    """A short list for a shell."""
    return "\n".join([words, *files])
