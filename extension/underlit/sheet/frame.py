"""The frame of every page: headings, page numbers, the check rules, and words that flow."""

from __future__ import annotations

from collections.abc import Sequence

from ..language import say
from ..records import record
from . import look
from .content import Area, Box, Item, Line, Page, Point, Words
from .fonts import DESCENT, LEADING, shortened, width, wrap
from .paper import MARGIN, Paper
from .stamp import stamp

#: Room for the line above and below every page's content (mm).
HEADER, FOOTER = 7.0, 6.0


@record
class Draft:
    """A page before it knows how many there are. `wide`: the paper lies on its side.

    `chapter` is the title of the first of several pages that belong together.
    """

    title: str
    items: tuple[Item, ...]
    wide: bool = False
    chapter: str = ""


@record
class Running:
    """What stands on every page: the card's name, the line below, and what is not ready yet."""

    name: str
    footer: str
    not_ready: str | None


def continued(title: str) -> str:
    """The title of a further page."""
    return say("{heading}, continued", heading=title)


def size_of(paper: Paper, wide: bool) -> Point:
    """Width and height of the page (mm)."""
    return (paper.height, paper.width) if wide else (paper.width, paper.height)


def room(paper: Paper, wide: bool = False) -> Box:
    """Where content may stand."""
    across, down = size_of(paper, wide)
    return (MARGIN, MARGIN + HEADER, across - MARGIN, down - MARGIN - FOOTER)


def bound(drafts: Sequence[Draft], paper: Paper, running: Running) -> tuple[Page, ...]:
    """All pages with their numbers."""
    pages = []
    for number, draft in enumerate(drafts, 1):
        across, down = size_of(paper, draft.wide)
        items = _furniture(
            across, down, running, say("Page {number} of {pages}", number=number, pages=len(drafts))
        )
        over = stamp(across, down) if running.not_ready else []
        pages.append(Page(across, down, draft.title, (*items, *draft.items, *over)))
    return tuple(pages)


def _furniture(across: float, down: float, running: Running, number: str) -> list[Item]:
    right, low = across - MARGIN, down - MARGIN
    items: list[Item] = []
    long = width(number, look.SMALL)
    left_room = right - MARGIN - long - 6.0
    base = MARGIN + 2.2
    if running.not_ready:
        warning = shortened(running.not_ready, look.SMALL, left_room - 4.0, True)
        far = MARGIN + width(warning, look.SMALL, True) + 4.0
        items.append(_box((MARGIN, base - 3.6, far, base + 1.6), "#ffffff", look.ALARM, 0.4))
        items.append(Words((MARGIN + 2.0, base), warning, look.SMALL, True, "start", look.ALARM))
    else:
        name = shortened(running.name, look.SMALL, left_room)
        items.append(Words((MARGIN, base), name, look.SMALL, False, "start", look.GREY))
    items.append(Words((right, base), number, look.SMALL, False, "end", look.GREY))
    items.append(Line(((MARGIN, low - 4.0), (right, low - 4.0)), 0.15, look.PALE))
    footer = shortened(running.footer, 2.3, right - MARGIN)
    items.append(Words((MARGIN, low - 0.8), footer, 2.3, False, "start", look.GREY))
    return items


def _box(box: Box, fill: str | None, stroke: str | None, pen: float) -> Area:
    left, top, right, bottom = box
    ring = ((left, top), (right, top), (right, bottom), (left, bottom))
    return Area((ring,), fill, stroke, pen)


def panel(box: Box, fill: str | None = look.BOX, stroke: str | None = None,
          pen: float = 0.2) -> Area:  # fmt: skip
    """A plain rectangle."""
    return _box(box, fill, stroke, pen)


class Flow:
    """Words that run down a column; `y` is where the next line's top will be."""

    def __init__(self, left: float, top: float, across: float) -> None:
        self.left, self.y, self.across = left, top, across
        self.items: list[Item] = []

    def lines(self, text: str, size: float = look.BODY_SIZE, *, bold: bool = False,
              colour: str = look.INK, indent: float = 0.0, after: float = 0.0) -> None:  # fmt: skip
        """A paragraph."""
        for one in wrap(text, size, self.across - indent, bold):
            self.y += LEADING * size
            place = (self.left + indent, self.y - (DESCENT + 0.06) * size)
            self.items.append(Words(place, one, size, bold, "start", colour))
        self.y += after

    def heading(self, text: str, size: float = look.HEADING, after: float = 1.0) -> None:
        """A heading."""
        self.lines(text, size, bold=True, after=after)

    def point(self, text: str, mark: str = "•", size: float = look.BODY_SIZE,
              after: float = 0.7, indent: float = 4.0) -> None:  # fmt: skip
        """A paragraph with a mark before it; `indent` is the least room for the mark."""
        top = self.y
        indent = max(indent, width(mark, size) + 1.6)
        self.lines(text, size, indent=indent, after=after)
        base = top + LEADING * size - (DESCENT + 0.06) * size
        self.items.append(Words((self.left, base), mark, size))

    def gap(self, room: float) -> None:
        """Free room."""
        self.y += room


def check_rules(corner: Point, down: bool) -> list[Item]:
    """A rule of 100 mm and one of 50 mm behind it, to the right or downwards from a corner."""
    items: list[Item] = []
    at = 0.0
    for long in (100.0, 50.0):
        items += _rule((corner[0], corner[1] + at) if down else (corner[0] + at, corner[1]),
                       long, down)  # fmt: skip
        at += long + 5.0
    return items


#: Room that both rules take together (mm).
RULES = 155.0


def _rule(start: Point, long: float, down: bool) -> list[Item]:
    """One rule: the line itself is as long as it says; ticks every 10 mm."""
    x, y = start

    def at(along: float, aside: float) -> Point:
        return (x + aside, y + along) if down else (x + along, y + aside)

    items: list[Item] = [Line((at(0.0, 0.0), at(long, 0.0)), 0.2)]
    for step in range(int(long / 10.0) + 1):
        high = 2.4 if step in (0, int(long / 10.0)) else 1.2
        items.append(Line((at(10.0 * step, 0.0), at(10.0 * step, high)), 0.15))
    text = f"{long:.0f} mm"
    middle = at(long / 2.0 + 5.0, 4.6) if not down else (x + 1.8, y + long / 2.0 + 6.0)
    anchor = "start" if down else "middle"
    items.append(Words(middle, text, 2.3, False, anchor, look.INK))
    return items
