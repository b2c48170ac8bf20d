"""object-skipped: something on the drawing that is not read.

Text and pictures have no outlines; objects with unreadable coordinates, a size of nothing, a
mask, or a lost original are never guessed at. A stop where tape or a part cannot be read, a
note for hidden objects and for text and pictures on Die cut, Folds, Cover and Diffuser, a
caution otherwise. Text that only decorates a part is passed over. An outline as large as the page
is left out as its frame; where it may be the panel itself a note asks.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.drawing import Remark
from ..model.finding import Finding

CODE = "object-skipped"

#: kind of remark -> (what is wrong, what to do)
WORDS = {
    "text": ("is text; I read outlines only", "Turn it into outlines: Path > Object to Path."),
    "picture": ("is a picture; I read outlines only", "Trace it first: Path > Trace Bitmap."),
    "hidden": ("is hidden, so I leave it out", "Show it if it belongs to the card."),
    "unpainted": ("paints nothing, so it is no tape", "Give it a line width or a fill."),
    "unreadable": ("has coordinates that I cannot read", "Delete it and draw it anew."),
    "flat": ("is squeezed to nothing", "Undo the squeezing, or delete it."),
    "masked": ("has a mask, which I do not read", "Use a clip instead, or cut it to shape."),
    "clone-cycle": ("is a clone that contains itself", "Delete it and draw it anew."),
    "clone-missing": (
        "is a clone whose original is gone",
        "Delete it, or bring the original back.",
    ),
    "duplicate-id": (
        "has the same name as another object",
        "Rename one of them (Object Properties).",
    ),
}

#: kinds that are only worth a note anywhere
HARMLESS = frozenset({"hidden", "unpainted", "duplicate-id"})

#: What reading says of a click without a drag, an empty path, a circle of radius 0.
NO_SIZE = "it has no size"

#: kinds that mean nothing on a part: decoration that is no outline, or not shown
DECORATION = frozenset({"text", "picture", "hidden", "unpainted"})

#: layers on which a text or a picture may stand for something that should be read
READ_WHOLE = frozenset({"base", "tape", "lights", "power", "foam"})


def check(case: Case) -> Iterator[Finding]:
    """One finding per object; also lines on Folds that are not straight."""
    for remark in case.facts.remarks:
        if remark.part is not None and remark.kind in DECORATION:
            continue
        what, todo = WORDS.get(remark.kind, ("is not read", "Delete it and draw it anew."))
        detail = f" ({remark.detail})" if remark.detail else ""
        if remark.detail == NO_SIZE:
            what, todo, detail = "draws nothing: it has no size", "Delete it.", ""
        yield Finding(
            CODE,
            severity_of(remark),
            remark.at,
            (remark.id,),
            f'"{remark.id}" {what}{detail}.',
            todo,
        )
    yield from (finding for finding in case.facts.found if finding.rule == CODE)


def severity_of(remark: Remark) -> str:
    """stop | caution | note."""
    if remark.kind in HARMLESS:
        return "note"
    if remark.kind in {"text", "picture"} and remark.role not in READ_WHOLE:
        return "note"
    if remark.kind == "flat" and not remark.in_part:
        return "note" if remark.detail == NO_SIZE else "caution"
    broken = remark.kind in {"unreadable", "flat", "clone-cycle", "clone-missing"}
    if broken and (remark.in_part or remark.role == "tape"):
        return "stop"
    return "caution"
