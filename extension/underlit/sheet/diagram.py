"""The whole circuit on one page, everything named, and a list of what each thing touches."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from ..language import figure, later, say, say_count
from ..model.finding import Finding
from . import look
from .content import Item, Words
from .drawing import fit_into, ghost
from .faults import fault_marks, marked, numbered
from .fonts import LEADING
from .frame import Draft, Flow, room
from .labels import Labels
from .paper import Paper as Stock
from .scene import Piece, Scene, Tape
from .step_pages import full
from .steps import everything
from .true_size import middle_of
from .wording import name_of

#: Room for the list below the picture at most (mm), its columns, the size of its letters.
LIST, COLUMNS, SIZE = 52.0, 3, 2.6

#: What marks mean, to be said.
MARKS = later(
    "Diamonds: mend these first; discs: look at these. Their numbers are those of the list on the "
    "last pages."
)


def diagram_page(scene: Scene, stock: Stock, findings: Sequence[Finding]) -> Draft:
    """The labelled circuit, with marks where something must be mended first."""
    faults = marked(scene, numbered(findings))
    west, north, east, south = scene.extent
    wide = east - west > 1.1 * (south - north)
    left, top, right, bottom = room(stock, wide)
    flow = Flow(left, top, right - left)
    title = say("The whole circuit")
    flow.heading(title, look.TITLE, 0.5)
    words = say(
        "P: plus tape (dark). M: minus tape (light, dark edge). Numbers in laying order on each "
        "side. Red numbers: lights."
    )
    flow.lines(words, 2.7)
    if scene.back:
        flow.lines(say("Seen from the back of the sheet, where you work."), 2.7, bold=True)
    if faults:
        flow.lines(say(MARKS), 2.7, bold=True, colour=look.ALARM)
    parts = (*scene.lights, *scene.cells, *scene.others)
    lines = len(scene.tapes) + len(parts)
    below = min(LIST, (-(-lines // COLUMNS) + 1) * LEADING * SIZE)
    box = (left, flow.y + 3.0, right, bottom - below - 2.0)
    fit = fit_into(scene.extent, (box[0] + 8, box[1] + 4, box[2] - 8, box[3] - 4), 1.4)
    things = everything(scene)
    bodies = [t.body for t in things if isinstance(t, Piece)]
    hidden = shapely.transform(shapely.union_all(bodies), fit.points)
    items: list[Item] = ghost(scene, (), fit)
    for thing in things:
        items += full(thing, fit, hidden)
    shapes = [t.body if isinstance(t, Piece) else t.geometry for t in things]
    feet = [foot for t in things if isinstance(t, Piece) for _, foot in t.feet]
    off = shapely.transform(shapely.union_all([*shapes, *feet]), fit.points)
    labels = Labels(box, off)
    marks = fault_marks(faults, fit, labels)
    tree = shapely.STRtree(bodies)
    for tape in scene.tapes:
        at = fit.point(middle_of(tape.geometry, tree))
        items += labels.put(tape.label, at, 3.6, look.INK, reach=0.6 * tape.width * fit.scale)
    for light in scene.lights:
        items += labels.put(str(light.number), fit.point(light.at), 3.2, look.ALARM,
                            reach=2.6 * fit.scale)  # fmt: skip
    for other in (*scene.cells, *scene.others):
        reach = 0.5 * min(
            other.body.bounds[2] - other.body.bounds[0], other.body.bounds[3] - other.body.bounds[1]
        )
        items += labels.put(
            name_of(scene, other), fit.point(other.at), 2.8, look.INK, reach=reach * fit.scale
        )
    listed = _list(scene, left, right, bottom)
    return Draft(title, (*flow.items, *items, *marks, *listed), wide)


def _list(scene: Scene, left: float, right: float, bottom: float) -> list[Item]:
    """Tapes with their lengths, and what each part lies on, in columns."""
    lines = [_tape_line(tape) for tape in scene.tapes]
    lines += [
        say("{light}   + on {plus}, − on {minus}", light=light.number, **_feet(light))
        for light in scene.lights
    ]
    lines += [
        say("{battery}: + on {plus}, − on {minus}", battery=name_of(scene, cell), **_feet(cell))
        for cell in scene.cells
    ]
    lines += [_between(scene, other) for other in scene.others]
    size, columns = SIZE, COLUMNS
    rows = max(1, int(LIST / (LEADING * size)) - 1)
    if len(lines) > rows * columns:
        hidden = len(lines) - rows * columns + 1
        lines = [*lines[: rows * columns - 1], say("and {number} more", number=hidden)]
    rows = max(1, -(-len(lines) // columns))
    across = (right - left) / columns
    top = bottom - (rows + 0.5) * LEADING * size
    return [
        Words((left + (k // rows) * across, top + (k % rows + 1) * LEADING * size), line, size)
        for k, line in enumerate(lines)
    ]


def _tape_line(tape: Tape) -> str:
    line = f"{tape.label}   {figure(tape.length)} mm"
    if not tape.all_folds:
        return line
    folds = say_count("{number} fold", "{number} folds", tape.all_folds)
    return f"{line}, {folds}"


def _between(scene: Scene, other: Piece) -> str:
    """The tapes that a switch or resistor joins."""
    first, second = (", ".join(other.tapes(foot)) for foot in ("contact-1", "contact-2"))
    name = name_of(scene, other)
    if not first and not second:
        return say("{part}: no tape", part=name)
    return say(
        "{part}: on {first} and {second}",
        part=name, first=first or say("no tape"), second=second or say("no tape"),
    )  # fmt: skip


def _feet(piece: Piece) -> dict[str, str]:
    """Which tapes plus and minus foot lie on."""
    return {
        word: ", ".join(piece.tapes(foot)) or say("no tape")
        for word, foot in (("plus", "positive-pad"), ("minus", "negative-pad"))
    }
