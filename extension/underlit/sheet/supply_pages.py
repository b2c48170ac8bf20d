"""Supplies on pages: shopping list, tape to cut, a bag for each card, the order for a batch."""

from __future__ import annotations

from collections import Counter

from .closing import testable
from .frame import Draft, room
from .paper import Paper as Stock
from .scene import Scene
from .supplies import Supplies, Supply, fold_extra
from .tables import Report
from .wording import count, joined, light_kinds, short


def supply_pages(scene: Scene, supplies: Supplies, stock: Stock) -> list[Draft]:
    """All lists."""
    report = Report("Supplies", room(stock))
    _shopping(report, supplies)
    _tape(report, supplies)
    _bag(report, scene, supplies)
    if supplies.copies > 1:
        _batch(report, scene, supplies)
    return report.done()


def _shopping(report: Report, supplies: Supplies) -> None:
    copies = supplies.copies
    priced = any(line.price is not None for line in supplies.lines)
    report.heading(f"What you need for {count(copies, 'card', 'cards')}")
    head = ["what", "unit", "one card", f"{copies} cards" if copies > 1 else "to buy"]
    shares = [9.0, 3.2, 2.0, 2.0]
    if priced:
        head += ["price", "cost"]
        shares += [1.7, 1.9]
    rows = [_line(line, priced) for line in supplies.lines]
    report.table(head, rows, shares, range(2, len(head)))
    known = [line.cost for line in supplies.lines if line.cost is not None]
    if priced:
        missing = [line.item for line in supplies.lines if line.price is None]
        words = f"Together {sum(known):.2f}; {sum(known) / copies:.2f} a card."
        if missing:
            words += f" Without a price: {joined(missing)}."
        report.words(words, bold=True)
    report.words(
        "Also: glue, scissors or a craft knife with a metal ruler, a bone folder, a soft pencil. "
        "Buy a spare light and a spare battery to test with."
    )


def _line(line: Supply, priced: bool) -> list[str]:
    each = f"{line.per_card:.2f}".rstrip("0").rstrip(".")
    row = [line.what, line.unit, each, str(line.total)]
    if priced:
        row += [
            "" if line.price is None else f"{line.price:.2f}",
            "" if line.cost is None else f"{line.cost:.2f}",
        ]
    return row


def _tape(report: Report, supplies: Supplies) -> None:
    for use in supplies.tape:
        report.heading(f"Tape {short(use.width)} mm wide")
        rows = [
            [
                t.label,
                short(t.length),
                short(t.overlap),
                f"{t.folds}",
                short(fold_extra(t)),
                str(cut),
            ]
            for t, cut in zip(use.tapes, use.cuts, strict=True)
        ]
        report.table(
            ["strip", "length mm", "of it overlap", "folds", "folds take", "cut mm"],
            rows, [2, 3, 3, 2, 3, 3], range(1, 6),
        )  # fmt: skip
        report.words(
            f"One card takes {use.per_card} mm. A roll of 10 m makes "
            f"{count(use.cards_per_roll, 'card', 'cards')}; "
            f"{count(supplies.copies, 'card needs', 'cards need')} "
            f"{count(use.rolls, 'roll', 'rolls')}."
        )
    if supplies.shapes:
        report.heading("Shapes cut from a conductive sheet")
        rows = [
            [t.label, short(t.length), f"{t.box[0]:.0f} x {t.box[1]:.0f}", str(supplies.copies)]
            for t in supplies.shapes
        ]
        report.table(["strip", "length mm", "from a sheet of mm", "pieces"], rows,
                     [2, 3, 4, 2], (1, 2, 3))  # fmt: skip


def _bag(report: Report, scene: Scene, supplies: Supplies) -> None:
    report.heading("Bag for one card")
    things = []
    if not scene.front.is_empty:
        things.append("the front")
    things.append("the back sheet with its plan")
    cuts = [
        f"{t.label} {cut} mm"
        for use in supplies.tape
        for t, cut in zip(use.tapes, use.cuts, strict=True)
    ]
    if cuts:
        things.append(f"tape: {', '.join(cuts)}")
    if supplies.shapes:
        things.append(f"cut shapes: {', '.join(t.label for t in supplies.shapes)}")
    if scene.papers:
        things.append(count(len(scene.papers), "piece of paper tape", "pieces of paper tape"))
    if scene.lights:
        things.append(f"lights: {light_kinds(scene)}")
    things += [other.call.removeprefix("the ") for other in scene.others]
    holders = sum(not cell.bare for cell in scene.cells)
    if holders:
        things.append("battery holder" if holders == 1 else f"{holders} battery holders")
    kinds = Counter(cell.type.upper() for cell in scene.cells)
    for kind, many in kinds.items():
        batteries = f"battery {kind}" if many == 1 else f"{many} batteries {kind}, each"
        own = "" if many > 1 else ","
        things.append(f"{batteries}{own} in a small closed bag of its own, nothing metal beside it")
    for shape, word in ((scene.covers, "cover"), (scene.diffusers, "vellum"), (scene.foam, "foam")):
        if not shape.is_empty:
            things.append(word)
    note = "the note for the reader, and " if scene.lights and scene.cells else ""
    things.append(f"{note}these steps")
    for thing in things:
        report.words(thing, mark="–")


def _batch(report: Report, scene: Scene, supplies: Supplies) -> None:
    n = supplies.copies
    report.heading(f"{n} cards in one go")
    plus = [t for t in scene.tapes if t.sign == "positive"]
    minus = [t for t in scene.tapes if t.sign == "negative"]
    tasks = [f"Print or trace the plan on {n} back sheets; cut {n} fronts."]
    if scene.lights:
        tasks.append(f"Test all {n * len(scene.lights)} lights.")
    for tapes, side in ((plus, "plus"), (minus, "minus")):
        if tapes:
            names = joined([t.label for t in tapes])
            each = "each of " if len(tapes) > 1 else ""
            tasks.append(f"All {side} tapes: cut {n} of {each}{names}; lay them card by card.")
    if scene.papers:
        tasks.append("Paper tape on all cards, before what lies on it.")
    if scene.others:
        tasks.append(f"Set {joined([one.call for one in scene.others])} on {n} cards.")
    holders = sum(not cell.bare for cell in scene.cells)
    if holders:
        tasks.append(f"Tape down {n * holders} battery holders.")
    if testable(scene):
        tasks.append("Test the tape of every card with a loose light at the far end.")
    if scene.lights:
        one_by_one = f"Stick {n} times light 1, then {n} times light 2, and so on."
        tasks.append(one_by_one if len(scene.lights) > 1 else f"Stick the light on {n} cards.")
    if testable(scene):
        tasks.append("Test every card.")
    layers = [
        word
        for shape, word in (
            (scene.covers, "covers"), (scene.diffusers, "vellum"), (scene.foam, "foam"),
        )
        if not shape.is_empty
    ]  # fmt: skip
    if layers:
        tasks.append(f"Then {joined(layers)}, each on all cards.")
    if scene.cells:
        many = n * len(scene.cells)
        tasks.append(f"{many} batteries last, one by one, out of their pack only now. Test, close.")
    for k, task in enumerate(tasks, 1):
        report.words(task, mark=f"{k}")
