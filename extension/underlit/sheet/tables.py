"""Tables that run over pages."""

from __future__ import annotations

from collections.abc import Sequence

from . import look
from .content import Box, Item, Line, Words
from .fonts import DESCENT, LEADING, wrap
from .frame import Draft, Flow, continued

#: Room between columns and between rows (mm).
PAD, ROW = 2.0, 1.1


class Report:
    """Pages of headings, words and tables; a new page is begun where the room ends."""

    def __init__(self, title: str, box: Box) -> None:
        self._title, self._box = title, box
        self._drafts: list[Draft] = []
        self._begin()

    def _begin(self) -> None:
        left, top, right, _ = self._box
        self._flow = Flow(left, top, right - left)
        self._flow.heading(self._name(), look.TITLE, 1.5)
        self._fresh = True

    def _end(self) -> None:
        items = tuple(self._flow.items)
        self._drafts.append(Draft(self._name(), items, chapter=self._title))

    def _name(self) -> str:
        return continued(self._title) if self._drafts else self._title

    def need(self, high: float) -> bool:
        """Begin a new page unless so much room is left (mm); whether one was begun."""
        if self._flow.y + high <= self._box[3] or self._fresh:
            return False
        self._end()
        self._begin()
        return True

    def heading(self, text: str, keep: float = 16.0) -> None:
        """A heading with room for what follows."""
        self.need(keep)
        self._flow.gap(0.0 if self._fresh else 2.5)
        self._flow.heading(text)
        self._fresh = False

    def words(self, text: str, *, mark: str = "", size: float = look.BODY_SIZE,
              bold: bool = False) -> None:  # fmt: skip
        """A paragraph, with a mark before it where given."""
        indent = 8.0 if mark else 0.0
        lines = len(wrap(text, size, self._flow.across - indent, bold))
        self.need(lines * LEADING * size + 1.0)
        self._fresh = False
        if mark:
            self._flow.point(text, mark, size)
        else:
            self._flow.lines(text, size, bold=bold, after=1.0)

    def gap(self, high: float) -> None:
        """Free room (mm)."""
        self._flow.gap(high)

    def block(self, high: float) -> Box:
        """Room of a height for a picture, on a new page where it does not fit."""
        self.need(high)
        flow = self._flow
        box = (flow.left, flow.y, flow.left + flow.across, flow.y + high)
        flow.gap(high)
        self._fresh = False
        return box

    def draw(self, items: Sequence[Item]) -> None:
        """Paint on the page where the last block is."""
        self._flow.items += items

    def table(self, head: Sequence[str], rows: Sequence[Sequence[str]],
              shares: Sequence[float], right: Sequence[int] = ()) -> None:  # fmt: skip
        """A table; `shares` of the width, `right` the columns of figures.

        On every further page it begins with its head again.
        """
        self._row(head, shares, right, True)
        for row in rows:
            self._row(row, shares, right, False, head)
        self._flow.gap(1.5)

    def _row(self, cells: Sequence[str], shares: Sequence[float], right: Sequence[int],
             bold: bool, head: Sequence[str] = ()) -> None:  # fmt: skip
        flow, size = self._flow, look.SMALL
        whole = sum(shares)
        wide = [flow.across * share / whole for share in shares]
        split = [wrap(cell, size, room - PAD, bold) for cell, room in zip(cells, wide, strict=True)]
        high = max(1, *(len(lines) for lines in split)) * LEADING * size + ROW
        if self.need(high) and head:
            self._row(head, shares, right, True)
        flow = self._flow
        x = flow.left
        items: list[Item] = []
        for k, lines in enumerate(split):
            at, anchor = (x + wide[k] - PAD, "end") if k in right else (x, "start")
            for n, text in enumerate(lines):
                y = flow.y + (n + 1) * LEADING * size - DESCENT * size
                items.append(Words((at, y), text, size, bold, anchor, look.INK))
            x += wide[k]
        flow.y += high
        items.append(Line(((flow.left, flow.y - 0.35), (x, flow.y - 0.35)),
                          0.3 if bold else 0.1, look.INK if bold else look.PALE))  # fmt: skip
        flow.items += items
        self._fresh = False

    def done(self) -> list[Draft]:
        """All pages."""
        self._end()
        return self._drafts
