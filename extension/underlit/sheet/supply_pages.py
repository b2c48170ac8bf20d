"""Supplies on pages: shopping list, tape to cut, a bag for each card, the order for a batch."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from ..language import decimal, figure, joined, say, say_count
from .closing import testable
from .frame import Draft, room
from .paper import Paper as Stock
from .scene import Scene
from .supplies import Supplies, Supply, TapeUse, fold_extra
from .tables import Report
from .wording import light_kinds, name_of


def supply_pages(scene: Scene, supplies: Supplies, stock: Stock) -> list[Draft]:
    """All lists."""
    report = Report(say("Supplies"), room(stock))
    _shopping(report, supplies)
    _tape(report, supplies)
    _bag(report, scene, supplies)
    if supplies.copies > 1:
        _batch(report, scene, supplies)
    return report.done()


def _shopping(report: Report, supplies: Supplies) -> None:
    copies = supplies.copies
    priced = any(line.price is not None for line in supplies.lines)
    report.heading(
        say_count("What you need for {number} card", "What you need for {number} cards", copies)
    )
    total = say("{copies} cards", copies=copies) if copies > 1 else say("to buy")
    head = [say("what"), say("unit"), say("one card"), total]
    shares = [9.0, 3.2, 2.0, 2.0]
    if priced:
        head += [say("price"), say("cost")]
        shares += [1.7, 1.9]
    rows = [_line(line, priced) for line in supplies.lines]
    report.table(head, rows, shares, range(2, len(head)))
    known = [line.cost for line in supplies.lines if line.cost is not None]
    if priced:
        missing = [line.item for line in supplies.lines if line.price is None]
        words = say("Together {cost}; {each} a card.",
                    cost=_money(sum(known)), each=_money(sum(known) / copies))  # fmt: skip
        if missing:
            words += " " + say("Without a price: {supplies}.", supplies=joined(missing))
        report.words(words, bold=True)
    report.words(
        say(
            "Also: glue, scissors or a craft knife with a metal ruler, a bone folder, a soft "
            "pencil. Buy a spare light and a spare battery to test with."
        )
    )


def _money(amount: float | None) -> str:
    return "" if amount is None else decimal(f"{amount:.2f}")


def _line(line: Supply, priced: bool) -> list[str]:
    each = decimal(f"{line.per_card:.2f}".rstrip("0").rstrip("."))
    row = [line.what, line.unit, each, str(line.total)]
    if priced:
        row += [_money(line.price), _money(line.cost)]
    return row


def _tape(report: Report, supplies: Supplies) -> None:
    for use in supplies.tape:
        report.heading(say("Tape {width} mm wide", width=figure(use.width)))
        rows = [
            [
                t.label,
                figure(t.length),
                figure(t.overlap),
                f"{t.all_folds}",
                figure(fold_extra(t)),
                str(cut),
            ]
            for t, cut in zip(use.tapes, use.cuts, strict=True)
        ]
        head = [
            say("strip"), say("length mm"), say("of it overlap"), say("folds"), say("folds take"),
            say("cut mm"),
        ]  # fmt: skip
        report.table(head, rows, [2, 3, 3, 2, 3, 3], range(1, 6))
        report.words(_use_words(use, supplies.copies))
    if supplies.shapes:
        report.heading(say("Shapes cut from a conductive sheet"))
        rows = [
            [t.label, figure(t.length), f"{t.box[0]:.0f} x {t.box[1]:.0f}", str(supplies.copies)]
            for t in supplies.shapes
        ]
        head = [say("strip"), say("length mm"), say("from a sheet of mm"), say("pieces")]
        report.table(head, rows, [2, 3, 4, 2], (1, 2, 3))


def _use_words(use: TapeUse, copies: int) -> str:
    """What one card takes, what a roll makes, how many rolls all cards need."""
    roll = say_count("A roll of 10 m makes {number} card", "A roll of 10 m makes {number} cards",
                     use.cards_per_roll)  # fmt: skip
    rolls = say_count("{number} roll", "{number} rolls", use.rolls)
    need = say_count("{number} card needs {rolls}", "{number} cards need {rolls}",
                     copies, rolls=rolls)  # fmt: skip
    return say("One card takes {length} mm. {roll}; {need}.",
               length=use.per_card, roll=roll, need=need)  # fmt: skip


def _bag(report: Report, scene: Scene, supplies: Supplies) -> None:
    report.heading(say("Bag for one card"))
    things = []
    if not scene.front.is_empty:
        things.append(say("the front"))
    things.append(say("the back sheet with its plan"))
    cuts = [
        f"{t.label} {cut} mm"
        for use in supplies.tape
        for t, cut in zip(use.tapes, use.cuts, strict=True)
    ]
    if cuts:
        things.append(say("tape: {strips}", strips=", ".join(cuts)))
    if supplies.shapes:
        shapes = ", ".join(t.label for t in supplies.shapes)
        things.append(say("cut shapes: {strips}", strips=shapes))
    if scene.papers:
        things.append(
            say_count("{number} piece of paper tape", "{number} pieces of paper tape",
                      len(scene.papers))
        )  # fmt: skip
    if scene.lights:
        things.append(say("lights: {kinds}", kinds=light_kinds(scene)))
    things += [name_of(scene, other) for other in scene.others]
    holders = sum(not cell.bare for cell in scene.cells)
    if holders:
        things.append(say_count("battery holder", "{number} battery holders", holders))
    kinds = Counter(cell.type.upper() for cell in scene.cells)
    for kind, many in kinds.items():
        things.append(
            say_count(
                "battery {cell}, in a small closed bag of its own, nothing metal beside it",
                "{number} batteries {cell}, each in a small closed bag of its own, nothing metal "
                "beside it",
                many,
                cell=kind,
            )
        )
    for shape, word in (
        (scene.covers, say("cover")),
        (scene.diffusers, say("vellum")),
        (scene.foam, say("foam")),
    ):
        if not shape.is_empty:
            things.append(word)
    noted = scene.lights and scene.cells
    things.append(say("the note for the reader, and these steps") if noted else say("these steps"))
    for thing in things:
        report.words(thing, mark="–")


def _batch(report: Report, scene: Scene, supplies: Supplies) -> None:
    report.heading(say("{number} cards in one go", number=supplies.copies))
    for k, task in enumerate(_tasks(scene, supplies.copies), 1):
        report.words(task, mark=f"{k}")


def _tasks(scene: Scene, n: int) -> Iterator[str]:
    """What is done to all cards before the next thing is."""
    yield say("Print or trace the plan on {number} back sheets; cut {number} fronts.", number=n)
    if scene.lights:
        yield say("Test all {number} lights.", number=n * len(scene.lights))
    yield from _tape_tasks(scene, n)
    if scene.papers:
        yield say("Paper tape on all cards, before what lies on it.")
    if scene.others:
        parts = joined([one.call for one in scene.others])
        yield say("Set {parts} on {number} cards.", parts=parts, number=n)
    holders = sum(not cell.bare for cell in scene.cells)
    if holders:
        yield say("Tape down {number} battery holders.", number=n * holders)
    if testable(scene):
        yield say("Test the tape of every card with a loose light at the far end.")
    if len(scene.lights) > 1:
        yield say("Stick {number} times light 1, then {number} times light 2, and so on.", number=n)
    elif scene.lights:
        yield say("Stick the light on {number} cards.", number=n)
    if testable(scene):
        yield say("Test every card.")
    named = (
        (scene.covers, say("covers")), (scene.diffusers, say("vellum")), (scene.foam, say("foam")),
    )  # fmt: skip
    layers = [word for shape, word in named if not shape.is_empty]
    if layers:
        yield say("Then {layers}, each on all cards.", layers=joined(layers))
    if scene.cells:
        yield say(
            "{number} batteries last, one by one, out of their pack only now. Test, close.",
            number=n * len(scene.cells),
        )


def _tape_tasks(scene: Scene, n: int) -> Iterator[str]:
    """How the tapes of each side are laid on all cards."""
    plus = [t.label for t in scene.tapes if t.sign == "positive"]
    minus = [t.label for t in scene.tapes if t.sign == "negative"]
    if plus:
        yield say_count(
            "All plus tapes: cut {copies} of {tapes}; lay them card by card.",
            "All plus tapes: cut {copies} of each of {tapes}; lay them card by card.",
            len(plus), copies=n, tapes=joined(plus),
        )  # fmt: skip
    if minus:
        yield say_count(
            "All minus tapes: cut {copies} of {tapes}; lay them card by card.",
            "All minus tapes: cut {copies} of each of {tapes}; lay them card by card.",
            len(minus), copies=n, tapes=joined(minus),
        )  # fmt: skip
