"""Findings as a maker sees them: a numbered mark at each place and a legend beside the page.

Numbers are those of the order of the report, from 1; what is told in one has one number at all its
places. A finding without a place, and the standing words about coin batteries, are in the legend
only.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from ..language import say
from ..model.drawing import Page
from ..model.finding import Finding, numbers_of, told_once
from .legend import STANDING, legend
from .marks import mark_items, place_items
from .narrow import Narrow, narrow_groups, reach_of, seen_of
from .placing import REACH, is_place, place_marks
from .primitives import Box, Group, Mark, Point, Sheet

__all__ = ["Sheet", "findings_sheet"]

#: White space between all that is drawn and the legend (mm).
BESIDE = 10.0


def findings_sheet(
    page: Page,
    extent: Box,
    findings: Sequence[Finding],
    accepted: Sequence[Finding],
    checked: str,
    verdict: str,
    heading: str = "",
    narrow: Sequence[Narrow] = (),
) -> Sheet:
    """What to draw on the Findings layer, in page mm.

    `extent` (x0, y0, x1, y1) are the bounds of all that is drawn, `findings` are in the order of
    the report, `checked` says what was checked and what not (paragraphs apart by line breaks),
    `verdict` is the report's. With a `heading`, that stands at the top instead of the verdict, and
    `checked` is said in any case. `narrow` places are drawn with their figures, below the marks.
    """
    marks = _marks(page, findings, seen_of(narrow))
    drawn = narrow_groups(narrow, marks, (0.0, 0.0, page.width, page.height))
    reach = (max(mark.centre[0], mark.place[0]) + mark.reach for mark in marks)
    corner = (max([page.width, extent[2], *reach, reach_of(drawn)]) + BESIDE, 0.0)
    panel, box = legend(corner, page.height, findings, accepted, checked, verdict, heading)
    told = dict(told_once(findings))
    # places first, the gravest on top; marks above them, so that no line runs over a number
    named = [*zip(_names(marks), marks, strict=True)]
    places = [_place(name, mark) for name, mark in reversed(named)]
    shown = [_mark(name, mark, told[mark.number]) for name, mark in named]
    return Sheet((*panel, *drawn, *places, *shown), tuple(marks), box)


def _marks(page: Page, findings: Sequence[Finding], seen: Sequence[Point] = ()) -> list[Mark]:
    numbered = [
        (number, finding.severity, finding.at)
        for number, finding in zip(numbers_of(findings), findings, strict=True)
        if finding.rule != STANDING and finding.at is not None and is_place(finding.at)
    ]
    places = [at for _, _, at in numbered]
    centres = place_marks(places, (0.0, 0.0, page.width, page.height), seen)
    return [
        Mark(number, severity, at, centre, REACH)
        for (number, severity, at), centre in zip(numbered, centres, strict=True)
    ]


def _names(marks: Sequence[Mark]) -> list[str]:
    """The number of each mark, and which it is of those that have the same: 4, 4-2, 4-3."""
    seen: Counter[int] = Counter()
    names = []
    for mark in marks:
        seen[mark.number] += 1
        names.append(f"{mark.number}" + f"-{seen[mark.number]}" * (seen[mark.number] > 1))
    return names


def _place(name: str, mark: Mark) -> Group:
    items = place_items(mark.severity, mark.place, mark.centre)
    return Group(f"place-{name}", say("Place of {number}", number=mark.number), items)


def _mark(name: str, mark: Mark, finding: Finding) -> Group:
    title = f"{mark.number}: {finding.message} {finding.remedy}"
    return Group(f"mark-{name}", title, mark_items(mark.severity, mark.number, mark.centre))
