"""The first page: what the card is, which pages follow, and how to choose among them."""

from __future__ import annotations

from collections.abc import Sequence

from . import look
from .content import Disc, Item
from .drawing import area, fit_into
from .frame import Draft, Flow, room
from .front import press_mark
from .paper import Paper as Stock
from .scene import Scene
from .supplies import Supplies, box_words
from .wording import count, lights_words, short

#: Numbers of pages take so much room before the titles (mm).
CONTENTS = 17.0


def first_page(
    scene: Scene, stock: Stock, name: str, supplies: Supplies, rest: Sequence[Draft],
    remarks: Sequence[str],
) -> Draft:  # fmt: skip
    """Picture, figures, contents."""
    left, top, right, _ = room(stock)
    flow = Flow(left, top, right - left)
    flow.heading(f"Making sheet: {name}", 6.4, 1.0)
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
    side.heading("Your card")
    for text in _figures(scene, supplies):
        side.point(text)
    side.gap(1.5)
    side.heading("How to use this")
    for n, text in enumerate(_how(scene), 1):
        side.point(text, f"{n}")
    low = Flow(left, max(start + 90.0, side.y + 6.0), right - left)
    low.heading("Pages")
    titles: dict[str, list[int]] = {}
    for number, draft in enumerate(rest, 2):
        title = draft.title.split(" (part")[0].removesuffix(", continued")
        titles.setdefault(title, []).append(number)
    for title, numbers in titles.items():
        pages = f"{numbers[0]}" if len(numbers) == 1 else f"{numbers[0]} to {numbers[-1]}"
        low.point(title, pages, indent=CONTENTS)
    return Draft("First page", (*flow.items, *items, *side.items, *low.items))


def _figures(scene: Scene, supplies: Supplies) -> list[str]:
    found = []
    if not scene.front.is_empty:
        found.append(f"Front {box_words(scene.front)}, "
                     f"{count(len(scene.windows), 'window', 'windows')}")  # fmt: skip
    if scene.base_drawn:
        where = "back" if scene.back else "front"
        found.append(f"Back sheet {box_words(scene.base)}, circuit on its {where}")
    if scene.lights:
        found.append(lights_words(scene))
    for cell in scene.cells:
        found.append(f"Battery {cell.type.upper()}, {'bare' if cell.bare else 'in a holder'}")
    if scene.tapes:
        length = sum(tape.length for tape in scene.tapes)
        found.append(
            f"{count(len(scene.tapes), 'strip', 'strips')} of tape, {length:.1f} mm together"
        )
    if scene.stack is not None and scene.cells:
        bare, posted = (short(thick) for thick in scene.stack.closed)
        found.append(
            f"Closed about {bare} mm thick, {posted} mm in its envelope: ask your post office"
        )
    found.append(f"Supplies for {count(supplies.copies, 'card', 'cards')}")
    return found


def _how(scene: Scene) -> list[str]:
    note = ["Cut out the note and put it into the card."] if scene.lights and scene.cells else []
    return [
        "Choose ONE true-size page of the back sheet. Print at 100 % and measure the 100 mm line.",
        "Gather the supplies.",
        "Follow the steps; test where they say so.",
        *note,
    ]
