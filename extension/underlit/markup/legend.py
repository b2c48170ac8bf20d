"""The legend beside the page: verdict, every finding with its mark, what to do.

Blocks of text flow down a column and on into further columns. A block stays whole; a column
that begins inside a group says so.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..language import later, say, say_count
from ..model.finding import Finding, to_come, told_once
from ..records import record
from .marks import LOOKS, mark_items
from .primitives import Box, Group, Item, Path, Point, Text
from .text import wrap

#: Width of a column, of the white space around and between columns (mm).
COLUMN = 92.0
MARGIN = 7.0
BETWEEN = 9.0

#: From the left of a column to the middle of the marks and to the text (mm).
TO_MARK = 4.3
TO_TEXT = 11.0

#: A panel is at least this high before a second column starts (mm).
LOWEST = 200.0

#: More columns than this become longer instead.
MANY = 5

#: The last words may go on this far below, rather than stand alone in a new column (mm).
TAIL = 30.0

#: Font sizes (mm): verdict, headings and text, small print. Line height per size.
VERDICT = 6.0
BODY = 3.2
SMALL = 2.8
LEADING = 1.4

PAPER = "#ffffff"
BORDER = "#b9b4a7"
INK = "#1d2126"
SOFT = "#4a4f57"

VERDICTS = {
    "ready": later("Circuit ready"),
    "ready-with-cautions": later("Ready, with cautions"),
    "not-ready": later("Not ready yet"),
}

#: Said in the legend of every card with a battery, without a number (it is no fault).
STANDING = "coin-cell"

#: So many accepted findings are quoted.
QUOTED = 4


@record
class Paragraph:
    """Text of one size, weight and colour; `before` is space above it (mm)."""

    text: str
    size: float
    bold: bool
    fill: str
    before: float = 0.0


@record
class Block:
    """What stays together. `number` is 0 without a mark; `group` is its severity's heading."""

    name: str
    title: str
    paragraphs: tuple[Paragraph, ...]
    severity: str = ""
    number: int = 0
    group: str = ""
    after: float = 3.0


def legend(
    corner: Point,
    height: float,
    findings: Sequence[Finding],
    accepted: Sequence[Finding],
    checked: str,
    verdict: str,
    heading: str = "",
) -> tuple[tuple[Group, ...], Box]:
    """The legend's groups (panel first) and its box; `corner` is its top left (mm).

    A `heading` replaces verdict and counts.
    """
    counted = "" if heading else tally(findings)
    head, below = _head(corner, heading or say(VERDICTS[verdict]), counted)
    blocks = _blocks(findings, accepted, checked, bool(heading))
    bottom = corner[1] + max(height, LOWEST) - MARGIN
    groups, columns, lowest = _flow(blocks, corner[0] + MARGIN, below, bottom)
    right = corner[0] + 2 * MARGIN + columns * COLUMN + (columns - 1) * BETWEEN
    box = (corner[0], corner[1], right, lowest + MARGIN)
    return (_panel(box), head, *groups), box


def _panel(box: Box) -> Group:
    x0, y0, x1, y1 = box
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return Group("legend", say("Legend"), (Path(corners, True, PAPER, BORDER, 0.3),))


def _head(corner: Point, words: str, counted: str) -> tuple[Group, float]:
    """Verdict and count, and where the columns begin."""
    x, y = corner[0] + MARGIN, corner[1] + MARGIN
    y += VERDICT
    items: list[Item] = [Text((x, y), words, VERDICT, True, "start", INK)]
    if counted:
        y += BODY * LEADING + 1.6
        items.append(Text((x, y), counted, BODY, False, "start", SOFT))
    y += 4.0
    items.append(Path(((x, y), (x + COLUMN, y)), False, None, BORDER, 0.3))
    return Group("legend-head", words, tuple(items)), y + 4.0


def tally(findings: Sequence[Finding]) -> str:
    """2 faults to mend, 1 caution, 3 notes (the standing one not counted)."""
    told = [finding for _, finding in told_once(findings) if finding.rule != STANDING]
    kinds = ["coming" if to_come(finding) else finding.severity for finding in told]
    stops, coming, cautions, notes = map(kinds.count, ("stop", "coming", "caution", "note"))
    counted = (
        (stops, say_count("{number} fault to mend", "{number} faults to mend", stops)),
        (
            coming,
            say_count("{number} thing still to come", "{number} things still to come", coming),
        ),
        (cautions, say_count("{number} caution", "{number} cautions", cautions)),
        (notes, say_count("{number} note", "{number} notes", notes)),
    )
    return ", ".join(words for number, words in counted if number)


def _blocks(
    findings: Sequence[Finding], accepted: Sequence[Finding], checked: str, headed: bool
) -> list[Block]:
    numbered = told_once(findings)
    blocks: list[Block] = []
    if headed or all(finding.severity == "note" for finding in findings):
        texts = [line for line in checked.split("\n") if line.strip()]
        paragraphs = tuple(
            Paragraph(t, BODY, False, INK, 1.6 * (i > 0)) for i, t in enumerate(texts)
        )
        blocks.append(Block("legend-checked", say("What was checked"), paragraphs, after=5.0))
    blocks += [_entry(n, f, headed) for n, f in numbered if f.rule != STANDING]
    blocks += [_standing(n, f) for n, f in numbered if f.rule == STANDING]
    if accepted:
        blocks.append(_accepted(accepted))
    return blocks


def _entry(number: int, finding: Finding, headed: bool) -> Block:
    return Block(
        f"legend-{number}",
        f"{number}: {finding.message} {finding.remedy}",
        (
            Paragraph(finding.message, BODY, True, INK),
            Paragraph(finding.remedy, BODY, False, INK, 0.4),
        ),
        finding.severity,
        number,
        "" if headed else _word(finding),
    )


def _word(finding: Finding) -> str:
    """The heading over it: what is still to come is no fault."""
    return say("Still to come") if to_come(finding) else say(LOOKS[finding.severity].word)


def _standing(number: int, finding: Finding) -> Block:
    return Block(
        f"legend-{number}",
        say("Coin batteries"),
        (
            Paragraph(say("Coin batteries"), BODY, True, INK, 2.0),
            Paragraph(f"{finding.message} {finding.remedy}", SMALL, False, INK, 0.4),
        ),
    )


def _accepted(accepted: Sequence[Finding]) -> Block:
    quoted = " ".join(finding.message for finding in accepted[:QUOTED])
    more = len(accepted) - QUOTED
    words = say("Accepted by you: {quoted}", quoted=quoted)
    if more > 0:
        words += " " + say("And {more} more.", more=more)
    paragraph = Paragraph(words, SMALL, False, SOFT, 2.0)
    return Block("legend-accepted", say("Accepted by you"), (paragraph,))


def _flow(
    blocks: Sequence[Block], left: float, top: float, bottom: float
) -> tuple[list[Group], int, float]:
    """Groups of the blocks, the number of columns, and how far down the lowest reaches.

    Where that takes more than `MANY` columns, they become longer: about as high as all is wide.
    """
    flown = _flow_to(blocks, left, top, bottom)
    if flown[1] <= MANY:
        return flown
    area = flown[1] * (bottom - top) * (COLUMN + BETWEEN)
    return _flow_to(blocks, left, top, top + max(bottom - top, area**0.5))


def _flow_to(
    blocks: Sequence[Block], left: float, top: float, bottom: float
) -> tuple[list[Group], int, float]:
    groups: list[Group] = []
    columns, y, lowest, group = 1, top, top, ""
    for block in blocks:
        heading = block.group if block.group != group else ""
        items, height = _set(block, (left, y), heading)
        limit = bottom if block.number else bottom + TAIL
        if y > top and y + height > limit:
            columns, y = columns + 1, top
            left += COLUMN + BETWEEN
            again = heading
            if block.group and not heading:
                again = say("{heading}, continued", heading=block.group)
            items, height = _set(block, (left, y), again)
        groups.append(Group(block.name, block.title, tuple(items)))
        group = block.group
        lowest = max(lowest, y + height)
        y += height + block.after
    return groups, columns, lowest


def _set(block: Block, at: Point, heading: str) -> tuple[list[Item], float]:
    """Items of a block whose top left is `at`, under a heading; and its height (mm)."""
    x, y = at
    items: list[Item] = []
    if heading:
        y += BODY + 1.0
        items.append(Text((x, y), heading, BODY, True, "start", SOFT))
        y += 3.4
    start = y
    indent = TO_TEXT if block.number else 0.0
    for paragraph in block.paragraphs:
        lines, y = _lines(paragraph, x + indent, y, COLUMN - indent)
        items += lines
    if block.number:
        reach = LOOKS[block.severity].half
        items += mark_items(block.severity, block.number, (x + TO_MARK, start + 3.6))
        y = max(y, start + 3.6 + reach)
    return items, y - at[1]


def _lines(paragraph: Paragraph, x: float, y: float, room: float) -> tuple[list[Item], float]:
    """A paragraph below y, and where it ends."""
    y += paragraph.before
    size = paragraph.size
    items: list[Item] = []
    for line in wrap(paragraph.text, size, paragraph.bold, room):
        items.append(Text((x, y + size), line, size, paragraph.bold, "start", paragraph.fill))
        y += size * LEADING
    return items, y
