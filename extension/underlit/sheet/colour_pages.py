"""The colour plan on pages: how it is done, every card as a small picture, and the table."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from ..colours.paints import Colour
from ..colours.palette import Palette
from ..colours.plan import Made
from ..language import joined, say, say_count
from . import look
from .content import Box, Item, Words
from .drawing import Fit, area, fit_into
from .fonts import LEADING, shortened
from .frame import Draft, Flow, panel, room
from .labels import Labels
from .paper import Paper as Stock
from .tables import Report

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
    report = Report(say("Colour plan"), room(stock))
    number = len(palette.plan.cards)
    cards = say_count("{number} card", "{number} cards", number)
    colours = say_count("{number} colour", "{number} colours", len(palette.colours))
    report.heading(say("{cards} from {colours}", cards=cards, colours=colours))
    for text in _words(palette):
        report.words(text, mark="•")
    report.gap(2.0)
    _key(report, palette)
    _pictures(report, palette)
    _table(report, palette)
    return report.done()


def _words(palette: Palette) -> list[str]:
    """What to do, and what is not to be had."""
    plan = palette.plan
    words = [
        say_count(
            "Cut {number} front from every colour and keep each piece that comes out.",
            "Cut {number} fronts from every colour and keep each piece that comes out.",
            plan.rounds,
        ),
        say(
            "Fill every front with pieces of other colours, as the pictures and the table say. "
            "Each piece is used once, none goes into a front of its own colour, no two cards are "
            "alike."
        ),
    ]
    if len(plan.cards) != palette.asked:
        words.append(_other_number(palette))
    if plan.alike:
        words.append(
            say_count(
                "So few colours leave some neighbours alike: {number} pair on all cards together.",
                "So few colours leave some neighbours alike: {number} pairs on all cards together.",
                plan.alike,
            )
        )
    if any(place.lit for place in palette.fronts.places):
        words.append(
            say(
                "Lights shine through some of these windows: fill those with thin paper or vellum, "
                "or they stay dark."
            )
        )
    if len(plan.cards) > MOST_PICTURES:
        words.append(
            say("The first {number} cards are pictured; all stand in the table.",
                number=MOST_PICTURES)
        )  # fmt: skip
    return words


def _other_number(palette: Palette) -> str:
    """Why it is not the number of cards asked for."""
    made, asked = len(palette.plan.cards), palette.asked
    if made < asked:
        return say(
            "These are all the different cards that {colours} colours give here; you asked for "
            "{asked}. Take one colour more, or make some cards twice.",
            colours=len(palette.colours), asked=asked,
        )  # fmt: skip
    return say(
        "You asked for {asked}; whole sets of colours make {made}. All but the fronts is counted "
        "for {asked}: ask for {made} to have them all.",
        asked=say_count("{number} card", "{number} cards", asked), made=made,
    )  # fmt: skip


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
    side.heading(say("Places"))
    letters = [place.letter for place in places]
    span = joined(letters)
    if len(letters) > 8:
        span = say("{first} to {last}", first=letters[0], last=letters[-1])
    side.lines(
        say_count("{number} place to fill: {letters}.", "{number} places to fill: {letters}.",
                  len(letters), letters=span),
        after=2.0,
    )  # fmt: skip
    side.heading(say("Colours"))
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
    name = say("{number}: {colour} front", number=index + 1, colour=colours[made.front].name)
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
    report.heading(
        say("Which colour goes where") if named else say("Which colour goes where, by number")
    )
    for start in range(0, len(places), ACROSS):
        some = places[start : start + ACROSS]
        head = [say("card"), say("front"), *(place.letter for place in some)]
        rows = [
            [str(n), _cell(colours, made.front, True)]
            + [_cell(colours, k, named) for k in made.pieces[start : start + ACROSS]]
            for n, made in enumerate(palette.plan.cards, 1)
        ]
        report.table(head, rows, [1.0, 2.4, *[2.4 if named else 0.9] * len(some)])


def _cell(colours: Sequence[Colour], number: int, named: bool) -> str:
    return f"{number + 1} {colours[number].name}" if named else str(number + 1)
