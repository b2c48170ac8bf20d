"""object-skipped: something on the drawing that is not read.

Text and pictures have no outlines; objects with unreadable coordinates, a size of nothing, a
mask, or a lost original are never guessed at. A stop where tape or a part cannot be read, a
note for hidden objects and for text and pictures on Die cut, Folds, Cover and Diffuser, a
caution otherwise. Text that only decorates a part is passed over. An outline as large as the page
is left out as its frame; where it may be the panel itself a note asks.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import later, say
from ..model.case import Case
from ..model.drawing import Remark
from ..model.finding import Finding

CODE = "object-skipped"

#: kind of remark -> (what is wrong, what to do)
WORDS = {
    "text": (
        later('"{name}" is text; I read outlines only'),
        later("Turn it into outlines: Path > Object to Path."),
    ),
    "picture": (
        later('"{name}" is a picture; I read outlines only'),
        later("Trace it first: Path > Trace Bitmap."),
    ),
    "hidden": (
        later('"{name}" is hidden, so I leave it out'),
        later("Show it if it belongs to the card."),
    ),
    "unpainted": (
        later('"{name}" paints nothing, so it is no tape'),
        later("Give it a line width or a fill."),
    ),
    "unreadable": (
        later('"{name}" has coordinates that I cannot read'),
        later("Delete it and draw it anew."),
    ),
    "flat": (
        later('"{name}" is squeezed to nothing'),
        later("Undo the squeezing, or delete it."),
    ),
    "no-size": (later('"{name}" draws nothing: it has no size'), later("Delete it.")),
    "masked": (
        later('"{name}" has a mask, which I do not read'),
        later("Use a clip instead, or cut it to shape."),
    ),
    "clone-cycle": (
        later('"{name}" is a clone that contains itself'),
        later("Delete it and draw it anew."),
    ),
    "clone-missing": (
        later('"{name}" is a clone whose original is gone'),
        later("Delete it, or bring the original back."),
    ),
    "duplicate-id": (
        later('"{name}" has the same name as another object'),
        later("Rename one of them (Object Properties)."),
    ),
}

#: what is said of any other kind
OTHER = (later('"{name}" is not read'), later("Delete it and draw it anew."))

#: kinds that are only worth a note anywhere
HARMLESS = frozenset({"hidden", "unpainted", "duplicate-id"})

#: kinds that mean nothing on a part: decoration that is no outline, or not shown
DECORATION = frozenset({"text", "picture", "hidden", "unpainted"})

#: layers on which a text or a picture may stand for something that should be read
READ_WHOLE = frozenset({"base", "tape", "lights", "power", "foam"})


def check(case: Case) -> Iterator[Finding]:
    """One finding per object; also lines on Folds that are not straight."""
    for remark in case.facts.remarks:
        if remark.part is not None and remark.kind in DECORATION:
            continue
        what, todo = WORDS.get(remark.kind, OTHER)
        detail = f" ({remark.detail})" if remark.detail else ""
        message = f"{say(what, name=remark.id)}{detail}."
        yield Finding(CODE, severity_of(remark), remark.at, (remark.id,), message, say(todo))
    yield from (finding for finding in case.facts.found if finding.rule == CODE)


def severity_of(remark: Remark) -> str:
    """stop | caution | note."""
    if remark.kind in HARMLESS:
        return "note"
    if remark.kind in {"text", "picture"} and remark.role not in READ_WHOLE:
        return "note"
    if remark.kind == "no-size" and not remark.in_part:
        return "note"
    broken = remark.kind in {"unreadable", "flat", "no-size", "clone-cycle", "clone-missing"}
    if remark.kind == "flat" and not remark.in_part:
        return "caution"
    if broken and (remark.in_part or remark.role == "tape"):
        return "stop"
    return "caution"
