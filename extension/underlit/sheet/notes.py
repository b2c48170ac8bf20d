"""The words at the end: the note for the reader, mending, what remains, cautions, for whom."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

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
from .wording import joined, place_words

#: Size of the note to cut out (mm).
NOTE = (150.0, 78.0)

DEFER = (
    "Everything here is an estimate from a drawing. Emergency services, the maker of your battery, "
    "your post office and your local rules come first."
)

MEND = (
    "A light stays dark: press its feet, then every overlap and folded corner on its way.",
    "Bridge a bad overlap: lay a short piece of tape across it, at least two widths long, and rub "
    "it down.",
    "Part a touching place: take the battery out, cut the hair of tape away with a blade, or slip "
    "paper tape between.",
    "A cracked strip: lay a second strip over it along its whole length; it need not come off.",
    "A light the wrong way round: lift it with a blade and turn it half round.",
    "It shines without pressing: more foam beside the battery, or paper between.",
    "You cannot find it: the entry Find the fault in the menu asks what you see, and names the "
    "likeliest places.",
)

CAUTIONS = (
    "Coin batteries kill small children who swallow them. Close the battery's pocket for good, "
    "keep loose batteries locked away. If one may have been swallowed go to an emergency "
    "department at once; do not wait for signs.",
    "Never let plus and minus of a battery touch: it runs flat, gets warm and may leak. Take it "
    "out before you mend.",
    "Cut away from your hand, along a metal ruler; cap the blade. Edges of foil cut skin.",
    "Post: a stack of mail presses the card. Put a paper tab in; ask your post office about "
    "thickness, and about batteries before you send abroad.",
    "Spent batteries: tape over both faces and take them to collection, never into the bin.",
)

WHOM = (
    "For an adult: as it is.",
    "Small children in the house: do not give a card with a battery there unless it is locked in "
    "behind a glued or sewn pocket. It is no toy.",
    "In a classroom: give the batteries out one by one, count them, and take them back before "
    "anyone leaves.",
    "For sale: NOT ASSESSED. A card that is sold is a product with rules of its own for coin "
    "batteries; ask before you sell.",
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
        flow.heading("For the reader of your card", look.TITLE, 0.5)
        flow.lines(
            "Cut out along the dashes and put it into the card: one for every card you make.", 2.7
        )
        flow.gap(3.0)
        items = _note(scene, left, flow.y)
        flow.y += NOTE[1] + 8.0
    flow.heading("Mend", look.TITLE, 1.5)
    for one in MEND:
        flow.point(one)
    return [Draft("Note and mending" if complete else "Mending", (*flow.items, *items))]


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
    flow.heading("This card lights up", 4.2, 1.0)
    for words in _lighting(scene):
        flow.lines(words, 2.9, after=1.2)
    flow.lines(
        f"Contains {_contained(scene)}. Keep away from children. If a battery may "
        "have been swallowed go to an emergency department at once.", 2.9, bold=True, after=1.2,
    )  # fmt: skip
    flow.lines(
        "Before you recycle the card: lift the front, slide "
        + (
            "the battery out, put tape over both its faces and take it to battery collection."
            if len(scene.cells) == 1
            else "every battery out, put tape over both faces and take them to battery collection."
        ),
        2.9,
    )  # fmt: skip
    return [*items, *flow.items]


def _contained(scene: Scene) -> str:
    """a coin battery (CR2032); 2 coin batteries (CR2032)."""
    kinds = joined(list(dict.fromkeys(cell.type.upper() for cell in scene.cells)))
    many = len(scene.cells)
    return f"{'a coin battery' if many == 1 else f'{many} coin batteries'} ({kinds})"


def _lighting(scene: Scene) -> Iterable[str]:
    """How its reader lights the card, and where."""
    hand = hand_of(scene)
    if hand is None:
        return
    if hand.way not in ("tab", "always"):
        yield (
            "First pull out the paper tab."
            if scene.tabs
            else ("First pull out the paper tab, if there is one.")
        )
    words = f"{hand.words[0].upper()}{hand.words[1:]}"
    where = "" if hand.spot is None else f": it is {place_words(scene, hand.spot)}"
    yield f"{words}{where}."


def _rest(stock: Stock, findings: Sequence[Finding]) -> list[Draft]:
    report = Report("What the check found, and cautions", room(stock))
    faults = numbered(findings)
    for severity, title in (
        ("stop", "Not ready: mend these first"),
        ("caution", "Look at these"),
        ("note", "Good to know"),
    ):
        some = [fault for fault in faults if fault.finding.severity == severity]
        if some:
            report.heading(title)
            for fault in some:
                words = f"{fault.finding.message} {fault.finding.remedy}"
                report.words(words, mark=f"{fault.number}")
    if not any(f.severity != "note" for f in findings):
        report.heading("Circuit")
        report.words("The drawing was checked: circuit ready. Nobody can check from a drawing how "
                     "well tape sticks, so test at every step.")  # fmt: skip
    report.heading("Cautions")
    for one in CAUTIONS:
        report.words(one, mark="•")
    report.heading("For whom?")
    for one in WHOM:
        report.words(one, mark="•")
    report.gap(4.0)
    report.words("Maker: ______________________   Address: ____________________________________")
    report.gap(4.0)
    report.words("Batch and date: ______________________   Cards in it: ____________")
    report.heading("What comes first")
    report.words(DEFER)
    return report.done()


def missing_words(scene: Scene) -> str | None:
    """There are no lights and no tape yet; None where all is drawn."""
    named = (("lights", scene.lights), ("battery", scene.cells), ("tape", scene.tapes))
    missing = [word for word, there in named if not there]
    if not missing:
        return None
    return f"There {'are' if missing[0] == 'lights' else 'is'} no {' and no '.join(missing)} yet"


def lacking(scene: Scene) -> str | None:
    """What cannot be printed because something is not drawn yet, None where all is there."""
    missing = missing_words(scene)
    if missing is None:
        return None
    without: list[str] = []
    if not scene.lights:
        without += ["the steps for lights", "all tests"]
    if not scene.cells:
        without += ["the step for the battery", "all tests", "the reader's note"]
    if not scene.tapes:
        without += ["the steps for tape", "all tests"]
    left_out = ", ".join(dict.fromkeys(without))
    return (
        f"{missing}: I print the plan at true size and what is drawn so far, but leave out: "
        f"{left_out}."
    )
