"""The first page: what the card is, which pages follow, and how to choose among them."""

from __future__ import annotations

from collections.abc import Sequence

from ..language import decimal, figure, say, say_count
from . import look
from .content import Disc, Item
from .drawing import area, fit_into
from .frame import Draft, Flow, room
from .front import press_mark
from .kinds import Kind
from .paper import Paper as Stock
from .scene import Scene
from .supplies import Supplies, box_words
from .wording import lights_words

#: Numbers of pages take so much room before the titles (mm).
CONTENTS = 17.0


def first_page(
    scene: Scene, stock: Stock, name: str, supplies: Supplies, kinds: Sequence[Kind],
    rest: Sequence[Draft], remarks: Sequence[str],
) -> Draft:  # fmt: skip
    """Picture, figures, contents; `kinds` of true-size pages are among the `rest`."""
    left, top, right, _ = room(stock)
    flow = Flow(left, top, right - left)
    flow.heading(say("Making sheet: {card}", card=name), 6.4, 1.0)
    for remark in remarks:
        flow.lines(remark, bold=True, colour=look.ALARM, after=1.0)
    flow.gap(2.0)
    start = flow.y
    shape = scene.front if not scene.front.is_empty else scene.base
    box = (left, start, left + 80.0, start + 84.0)
    fit = fit_into(shape.bounds, box, 1.0, scene.back)
    items: list[Item] = []
    for light in scene.lights:
        items.append(Disc(fit.point(light.at), max(1.6, 5.0 * fit.scale), look.LENS))
    items += area(shape, fit, look.PANEL, look.PANEL_EDGE, 0.25)
    items += press_mark(scene, fit)
    side = Flow(left + 88.0, start, right - left - 88.0)
    side.heading(say("Your card"))
    for text in _figures(scene, supplies):
        side.point(text)
    side.gap(1.5)
    side.heading(say("How to use this"))
    for n, text in enumerate(_how(scene, kinds), 1):
        side.point(text, f"{n}")
    low = Flow(left, max(start + 90.0, side.y + 6.0), right - left)
    low.heading(say("Pages"))
    titles: dict[str, list[int]] = {}
    for number, draft in enumerate(rest, 2):
        titles.setdefault(draft.chapter or draft.title, []).append(number)
    for title, numbers in titles.items():
        pages = f"{numbers[0]}"
        if len(numbers) > 1:
            pages = say("{first} to {last}", first=numbers[0], last=numbers[-1])
        low.point(title, pages, indent=CONTENTS)
    return Draft(say("First page"), (*flow.items, *items, *side.items, *low.items))


def _figures(scene: Scene, supplies: Supplies) -> list[str]:
    found = []
    if not scene.front.is_empty:
        found.append(
            say_count("Front {size}, {number} window", "Front {size}, {number} windows",
                      len(scene.windows), size=box_words(scene.front))
        )  # fmt: skip
    if scene.base_drawn:
        size = box_words(scene.base)
        found.append(
            say("Back sheet {size}, circuit on its back", size=size) if scene.back
            else say("Back sheet {size}, circuit on its front", size=size)
        )  # fmt: skip
    if scene.lights:
        found.append(lights_words(scene))
    for cell in scene.cells:
        kind = cell.type.upper()
        found.append(
            say("Battery {cell}, bare", cell=kind) if cell.bare
            else say("Battery {cell}, in a holder", cell=kind)
        )  # fmt: skip
    if scene.tapes:
        length = decimal(f"{sum(tape.length for tape in scene.tapes):.1f}")
        found.append(
            say_count("{number} strip of tape, {length} mm together",
                      "{number} strips of tape, {length} mm together",
                      len(scene.tapes), length=length)
        )  # fmt: skip
    if scene.stack is not None and scene.cells:
        bare, posted = map(figure, scene.stack.closed)
        found.append(
            say("Closed about {bare} mm thick, {posted} mm in its envelope: ask your post office",
                bare=bare, posted=posted)
        )  # fmt: skip
    found.append(
        say_count("Supplies for {number} card", "Supplies for {number} cards", supplies.copies)
    )
    return found


def _how(scene: Scene, kinds: Sequence[Kind]) -> list[str]:
    noted = scene.lights and scene.cells
    return [
        _plan_words(sum(not kind.front for kind in kinds)),
        say("Gather the supplies."),
        say("Follow the steps; test where they say so."),
        *([say("Cut out the note and put it into the card.")] if noted else []),
    ]


def _plan_words(ways: int) -> str:
    """How the plan comes onto the back sheet: by one of several ways, the only one, or none."""
    if ways > 1:
        return say(
            "Choose ONE true-size page of the back sheet. Print at 100 % and measure the 100 mm "
            "line."
        )
    if ways == 1:
        return say(
            "Print the true-size page of the back sheet at 100 % and measure the 100 mm line."
        )
    return say("The plan at true size is left out here: print it before you lay anything.")
