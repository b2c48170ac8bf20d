"""The colour plan on pages: how it is done, every card as a small picture, and the table."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from ..colours.paints import Colour
from ..colours.palette import Palette
from ..colours.plan import Made
from . import look
from .content import Box, Item, Words
from .drawing import Fit, area, fit_into
from .fonts import LEADING, shortened
from .frame import Draft, Flow, panel, room
from .labels import Labels
from .paper import Paper as Stock
from .tables import Report
from .wording import count, joined

TITLE = "Colour plan"

#: Pictures in a row, room between them, their height and that of the first at most (mm).
COLUMNS, GUTTER, HIGH, FIRST = 4, 6.0, 58.0, (70.0, 84.0)

#: More cards than this are in the table only.
MOST_PICTURES = 60

#: Up to so many places a table names colours, beyond it has their numbers; columns of one table.
NAMED, ACROSS = 6, 20

#: Numbers stand in pieces that have room for a circle of this radius on paper (mm).
ROOMY = 1.5

#: A window that stays open, in pictures.
OPEN = "#fffbe6"


def colour_pages(palette: Palette, stock: Stock) -> list[Draft]:
    """Words and key, a picture of every card, the table."""
    report = Report(TITLE, room(stock))
    cards = count(len(palette.plan.cards), "card", "cards")
    report.heading(f"{cards} from {count(len(palette.colours), 'colour', 'colours')}")
    for text in _words(palette):
        report.words(text, mark="•")
    report.gap(2.0)
    _key(report, palette)
    _pictures(report, palette)
    _table(report, palette)
    return report.done()


def _words(palette: Palette) -> list[str]:
    """What to do, and what is not to be had."""
    plan, colours = palette.plan, len(palette.colours)
    fronts = count(plan.rounds, "front", "fronts")
    words = [
        f"Cut {fronts} from every colour and keep each piece that comes out.",
        "Fill every front with pieces of other colours, as the pictures and the table say. Each "
        "piece is used once, none goes into a front of its own colour, no two cards are alike.",
    ]
    if len(plan.cards) < palette.asked:
        words.append(
            f"These are all the different cards that {colours} colours give here; you asked for "
            f"{palette.asked}. Take one colour more, or make some cards twice."
        )
    elif len(plan.cards) > palette.asked:
        asked = count(palette.asked, "card", "cards")
        words.append(
            f"You asked for {asked}; whole sets of colours make {len(plan.cards)}. All but the "
            f"fronts is counted for {asked}: ask for {len(plan.cards)} to have them all."
        )
    if plan.alike:
        words.append(
            f"So few colours leave some neighbours alike: {count(plan.alike, 'pair', 'pairs')} on "
            "all cards together."
        )
    if any(place.lit for place in palette.fronts.places):
        words.append("Lights shine through some of these windows: fill those with thin paper or "
                     "vellum, or they stay dark.")  # fmt: skip
    if len(plan.cards) > MOST_PICTURES:
        words.append(f"The first {MOST_PICTURES} cards are pictured; all stand in the table.")
    return words


def _key(report: Report, palette: Palette) -> None:
    """The front with the letters of its places, and the numbers of the colours."""
    paper, places = palette.fronts.paper, palette.fronts.places
    x0, y0, x1, y1 = paper.bounds
    scale = min(FIRST[0] / (x1 - x0), FIRST[1] / (y1 - y0), 1.0)
    lines = len(palette.colours) + 5
    box = report.block(max(scale * (y1 - y0), lines * LEADING * look.BODY_SIZE + 4.0) + 4.0)
    left, top, right, bottom = box
    fit = fit_into(paper.bounds, (left, top, left + FIRST[0], bottom - 4.0), scale)
    items = area(paper, fit, look.PANEL, look.PANEL_EDGE, 0.2)
    labels = Labels((left - 2.0, top - 1.0, left + FIRST[0] + 4.0, bottom + 1.0))
    for place in places:
        items += area(place.outline, fit, "#ffffff", look.INK, 0.2)
    for place in places:
        items += labels.put(place.letter, fit.point(place.at), 3.0)
    side = Flow(left + FIRST[0] + 10.0, top, right - left - FIRST[0] - 10.0)
    side.heading("Places")
    letters = [place.letter for place in places]
    span = joined(letters) if len(letters) <= 8 else f"{letters[0]} to {letters[-1]}"
    side.lines(f"{count(len(letters), 'place', 'places')} to fill: {span}.", after=2.0)
    side.heading("Colours")
    for number, colour in enumerate(palette.colours, 1):
        chip = (side.left, side.y + 0.6, side.left + 6.0, side.y + 3.6)
        items.append(panel(chip, colour.paint, look.INK, 0.15))
        name = shortened(f"{number} {colour.name}", look.BODY_SIZE, side.across - 8.0)
        side.lines(name, indent=8.0, after=0.6)
    report.draw([*items, *side.items])


def _pictures(report: Report, palette: Palette) -> None:
    """Every card small, some in a row."""
    x0, y0, x1, y1 = palette.fronts.paper.bounds
    shown = palette.plan.cards[:MOST_PICTURES]
    for start in range(0, len(shown), COLUMNS):
        left, _, right, _ = report.block(0.0)
        across = (right - left - (COLUMNS - 1) * GUTTER) / COLUMNS
        tall = min(HIGH, across * (y1 - y0) / (x1 - x0))
        left, top, _, _ = report.block(tall + 9.0)
        for k, made in enumerate(shown[start : start + COLUMNS]):
            x = left + k * (across + GUTTER)
            box = (x, top, x + across, top + tall + 5.0)
            report.draw(_card(palette, start + k, made, box))


def _card(palette: Palette, index: int, made: Made, box: Box) -> list[Item]:
    """One card: its name, and its front filled."""
    colours, fronts = palette.colours, palette.fronts
    flow = Flow(box[0], box[1], box[2] - box[0])
    name = f"{index + 1}: {colours[made.front].name} front"
    flow.lines(shortened(name, look.SMALL, flow.across, True), look.SMALL, bold=True)
    fit = fit_into(fronts.paper.bounds, (box[0], flow.y + 1.0, box[2], box[3]), 1.0)
    items = area(fronts.windows, fit, OPEN, None, 0.0)
    items += area(fronts.paper, fit, colours[made.front].paint, look.INK, 0.2)
    for place, number in zip(fronts.places, made.pieces, strict=True):
        items += area(place.outline, fit, colours[number].paint, look.INK, 0.15)
        items += _number(place.outline, fit, number, colours[number])
    return [*flow.items, *items]


def _number(outline: shapely.Geometry, fit: Fit, number: int, colour: Colour) -> list[Item]:
    """The number of a colour in a piece of it, where there is room: no meaning by hue alone."""
    inside = shapely.maximum_inscribed_circle(outline, tolerance=0.2)
    if inside.length * fit.scale < ROOMY:
        return []
    x, y = fit.point(tuple(inside.coords[0]))
    size = min(2.6, 1.1 * inside.length * fit.scale)
    ink = "#ffffff" if _dark(colour.paint) else look.INK
    return [Words((x, y + 0.36 * size), str(number + 1), size, True, "middle", ink)]


def _dark(paint: str) -> bool:
    """Whether white reads better on a paint than black (relative luminance, sRGB; WCAG 2)."""
    levels = [int(paint[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in levels]
    light = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    return light < 0.179


def _table(report: Report, palette: Palette) -> None:
    """Every card in a row: its front, and the colour of each place."""
    places, colours = palette.fronts.places, palette.colours
    named = len(places) <= NAMED
    report.heading("Which colour goes where" if named else "Which colour goes where, by number")
    for start in range(0, len(places), ACROSS):
        some = places[start : start + ACROSS]
        head = ["card", "front", *(place.letter for place in some)]
        rows = [
            [str(n), _cell(colours, made.front, True)]
            + [_cell(colours, k, named) for k in made.pieces[start : start + ACROSS]]
            for n, made in enumerate(palette.plan.cards, 1)
        ]
        report.table(head, rows, [1.0, 2.4, *[2.4 if named else 0.9] * len(some)])


def _cell(colours: Sequence[Colour], number: int, named: bool) -> str:
    return f"{number + 1} {colours[number].name}" if named else str(number + 1)
