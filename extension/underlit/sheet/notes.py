"""The words at the end: the note for the reader, mending, what remains, cautions, for whom."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..language import joined, later, say, say_count
from ..model.finding import Finding
from . import look
from .closing import hand_of
from .content import Item, Line
from .drawing import area, fit_into
from .faults import numbered
from .frame import Draft, Flow, room
from .front import press_mark
from .paper import Paper as Stock
from .scene import Scene
from .tables import Report
from .wording import place_words

#: Size of the note to cut out (mm).
NOTE = (150.0, 78.0)

#: What comes before all of this, to be said.
DEFER = later(
    "Everything here is an estimate from a drawing. Emergency services, the maker of your battery, "
    "your post office and your local rules come first."
)

#: How to mend what does not shine, to be said.
MEND = (
    later("A light stays dark: press its feet, then every overlap and folded corner on its way."),
    later(
        "Bridge a bad overlap: lay a short piece of tape across it, at least two widths long, "
        "and rub it down."
    ),
    later(
        "Part a touching place: take the battery out, cut the hair of tape away with a blade, "
        "or slip paper tape between."
    ),
    later(
        "A cracked strip: lay a second strip over it along its whole length; it need not come off."
    ),
    later("A light the wrong way round: lift it with a blade and turn it half round."),
    later("It shines without pressing: more foam beside the battery, or paper between."),
    later(
        "You cannot find it: the entry Find the fault in the menu asks what you see, and names "
        "the likeliest places."
    ),
)

#: What to take care of, to be said.
CAUTIONS = (
    later(
        "Coin batteries kill small children who swallow them. Close the battery's pocket for "
        "good, keep loose batteries locked away. If one may have been swallowed go to an "
        "emergency department at once; do not wait for signs."
    ),
    later(
        "Never let plus and minus of a battery touch: it runs flat, gets warm and may leak. "
        "Take it out before you mend."
    ),
    later("Cut away from your hand, along a metal ruler; cap the blade. Edges of foil cut skin."),
    later(
        "Post: a stack of mail presses the card. Put a paper tab in; ask your post office about"
        " thickness, and about batteries before you send abroad."
    ),
    later("Spent batteries: tape over both faces and take them to collection, never into the bin."),
)

#: Whom a card can be given to, to be said.
WHOM = (
    later("For an adult: as it is."),
    later(
        "Small children in the house: do not give a card with a battery there unless it is "
        "locked in behind a glued or sewn pocket. It is no toy."
    ),
    later(
        "In a classroom: give the batteries out one by one, count them, and take them back "
        "before anyone leaves."
    ),
    later(
        "For sale: NOT ASSESSED. A card that is sold is a product with rules of its own for "
        "coin batteries; ask before you sell."
    ),
)


def note_pages(
    scene: Scene, stock: Stock, findings: Sequence[Finding], first_steps: bool
) -> list[Draft]:
    """The note on a page of its own with mending; then findings, cautions, for whom."""
    return [*_reader(scene, stock, first_steps), *_rest(stock, findings)]


def _reader(scene: Scene, stock: Stock, complete: bool) -> list[Draft]:
    left, top, right, _ = room(stock)
    flow = Flow(left, top, right - left)
    items: list[Item] = []
    if complete:
        flow.heading(say("For the reader of your card"), look.TITLE, 0.5)
        words = say(
            "Cut out along the dashes and put it into the card: one for every card you make."
        )
        flow.lines(words, 2.7)
        flow.gap(3.0)
        items = _note(scene, left, flow.y)
        flow.y += NOTE[1] + 8.0
    flow.heading(say("Mend"), look.TITLE, 1.5)
    for one in MEND:
        flow.point(say(one))
    return [Draft(say("Note and mending") if complete else say("Mending"), (*flow.items, *items))]


def _note(scene: Scene, left: float, top: float) -> list[Item]:
    right, bottom = left + NOTE[0], top + NOTE[1]
    ring = ((left, top), (right, top), (right, bottom), (left, bottom))
    items: list[Item] = [Line(ring, 0.25, look.INK, True, (2.0, 1.4))]
    shape = scene.front if not scene.front.is_empty else scene.base
    box = (left + 4.0, top + 4.0, left + 48.0, bottom - 4.0)
    fit = fit_into(shape.bounds, box, 1.0, scene.back)
    items += area(shape, fit, look.PANEL, look.PANEL_EDGE, 0.2)
    items += press_mark(scene, fit)
    flow = Flow(left + 53.0, top + 3.5, NOTE[0] - 57.0)
    flow.heading(say("This card lights up"), 4.2, 1.0)
    for words in _lighting(scene):
        flow.lines(words, 2.9, after=1.2)
    flow.lines(_contained(scene), 2.9, bold=True, after=1.2)
    flow.lines(_recycled(scene), 2.9)
    return [*items, *flow.items]


def _contained(scene: Scene) -> str:
    kinds = joined(list(dict.fromkeys(cell.type.upper() for cell in scene.cells)))
    return say_count(
        "Contains a coin battery ({kinds}). Keep away from children. If a battery may have been "
        "swallowed go to an emergency department at once.",
        "Contains {number} coin batteries ({kinds}). Keep away from children. If a battery may "
        "have been swallowed go to an emergency department at once.",
        len(scene.cells),
        kinds=kinds,
    )


def _recycled(scene: Scene) -> str:
    if len(scene.cells) == 1:
        return say(
            "Before you recycle the card: lift the front, slide the battery out, put tape over "
            "both its faces and take it to battery collection."
        )
    return say(
        "Before you recycle the card: lift the front, slide every battery out, put tape over both "
        "faces and take them to battery collection."
    )


def _lighting(scene: Scene) -> Iterable[str]:
    """How its reader lights the card, and where."""
    hand = hand_of(scene)
    if hand is None:
        return
    if hand.way not in ("tab", "always"):
        yield (
            say("First pull out the paper tab.")
            if scene.tabs
            else say("First pull out the paper tab, if there is one.")
        )
    words = f"{hand.words[0].upper()}{hand.words[1:]}"
    if hand.spot is None:
        yield f"{words}."
    else:
        yield say("{press}: it is {place}.", press=words, place=place_words(scene, hand.spot))


def _rest(stock: Stock, findings: Sequence[Finding]) -> list[Draft]:
    report = Report(say("What the check found, and cautions"), room(stock))
    faults = numbered(findings)
    for severity, title in (
        ("stop", say("Not ready: mend these first")),
        ("caution", say("Look at these")),
        ("note", say("Good to know")),
    ):
        some = [fault for fault in faults if fault.finding.severity == severity]
        if some:
            report.heading(title)
            for fault in some:
                words = f"{fault.finding.message} {fault.finding.remedy}"
                report.words(words, mark=f"{fault.number}")
    if not any(f.severity != "note" for f in findings):
        report.heading(say("Circuit"))
        report.words(
            say(
                "The drawing was checked: circuit ready. Nobody can check from a drawing how well "
                "tape sticks, so test at every step."
            )
        )
    report.heading(say("Cautions"))
    for one in CAUTIONS:
        report.words(say(one), mark="•")
    report.heading(say("For whom?"))
    for one in WHOM:
        report.words(say(one), mark="•")
    report.gap(4.0)
    report.words(
        say("Maker: ______________________   Address: ____________________________________")
    )
    report.gap(4.0)
    report.words(say("Batch and date: ______________________   Cards in it: ____________"))
    report.heading(say("What comes first"))
    report.words(say(DEFER))
    return report.done()


def missing_words(scene: Scene) -> str | None:
    """There are no lights and no tape yet; None where all is drawn."""
    named = (
        (say("no lights"), scene.lights),
        (say("no battery"), scene.cells),
        (say("no tape"), scene.tapes),
    )
    missing = [word for word, there in named if not there]
    if not missing:
        return None
    if not scene.lights:
        return say("There are {missing} yet", missing=_each_said(missing))
    return say("There is {missing} yet", missing=_each_said(missing))


def _each_said(words: Sequence[str]) -> str:
    """no lights and no battery and no tape."""
    said = words[0]
    for word in words[1:]:
        said = say("{first} and {last}", first=said, last=word)
    return said


def lacking(scene: Scene) -> str | None:
    """What cannot be printed because something is not drawn yet, None where all is there."""
    missing = missing_words(scene)
    if missing is None:
        return None
    without: list[str] = []
    if not scene.lights:
        without += [say("the steps for lights"), say("all tests")]
    if not scene.cells:
        without += [say("the step for the battery"), say("all tests"), say("the reader's note")]
    if not scene.tapes:
        without += [say("the steps for tape"), say("all tests")]
    return say(
        "{missing}: I print what is drawn so far, but leave out: {left_out}.",
        missing=missing,
        left_out=", ".join(dict.fromkeys(without)),
    )
