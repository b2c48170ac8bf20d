"""Lines of Die cut that do not close: score and pen lines, and outlines with a small gap."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ..language import decimal, say, say_count
from ..model.card import Score
from ..model.drawing import Contour, Shape
from ..model.finding import Finding
from ..records import record
from .contours import SPECK, end_gap, is_closed

#: An outline whose ends are nearer than this was probably meant to close (mm).
NEARLY = 1.0

#: An open line round less than this is hardly a panel (mm2).
PANEL = 500.0

CODE = "outline-open"


@record
class OpenLines:
    """What is said of open lines, and how many there are: `scores` on a panel, outlines with
    small `gaps`, outlines that close only together (`chained`). `lines`: all on a panel;
    `unclosed`: ids of those that may be meant as the panel."""

    findings: tuple[Finding, ...] = ()
    scores: int = 0
    gaps: int = 0
    chained: int = 0
    lines: tuple[Score, ...] = ()
    unclosed: tuple[str, ...] = ()


def open_lines(shapes: Sequence[Shape]) -> list[tuple[Shape, Contour]]:
    """Every line that does not close, in drawing order."""
    return [
        (shape, contour)
        for shape in shapes
        for contour in shape.contours
        if len(contour.points) > 1 and not is_closed(contour)
    ]


def judge_open_lines(
    lines: Sequence[tuple[Shape, Contour]], panels: Sequence[BaseGeometry]
) -> OpenLines:
    """Notes: one for each outline with a small gap, one for all lines that close only together,
    one for all score lines inside panels.

    """
    if not lines:
        return OpenLines()
    from .chains import chain_finding, chains  # late: few drawings have open lines

    inside = _inside(lines, panels)
    groups = chains(lines)
    chained = {i for group in groups for i in group}
    findings: list[Finding] = []
    scores: list[tuple[Shape, Contour]] = []
    unclosed: list[str] = []
    joined = gaps = 0
    for i, ((shape, contour), within) in enumerate(zip(lines, inside, strict=True)):
        if _nearly_closed(contour):
            findings.append(_gap(shape, contour, within))
            gaps += 1
        elif i in chained:
            joined += bool(within)
        elif within:
            scores.append((shape, contour))
        elif _might_be_panel(contour, panels):
            findings.append(_no_panel(shape, contour))
            unclosed.append(shape.id)
    if groups:
        findings.append(chain_finding(lines, groups))
    if scores:
        findings.append(_score_lines(scores))
    on_panel = tuple(
        Score(shape.id, shapely.linestrings(contour.points))
        for (shape, contour), within in zip(lines, inside, strict=True)
        if within
    )
    count = len(scores) + joined
    return OpenLines(tuple(findings), count, gaps, len(groups), on_panel, tuple(unclosed))


def _inside(lines: Sequence[tuple[Shape, Contour]], panels: Sequence[BaseGeometry]) -> np.ndarray:
    """Whether each line meets a panel."""
    if not panels:
        return np.zeros(len(lines), dtype=bool)
    paths = [shapely.linestrings(contour.points) for _, contour in lines]
    hits = shapely.STRtree(paths).query(list(panels), predicate="intersects")[1]
    found = np.zeros(len(lines), dtype=bool)
    found[hits] = True
    return found


def _nearly_closed(contour: Contour) -> bool:
    """Whether the ends nearly meet round something larger than a speck."""
    if len(contour.points) < 3 or end_gap(contour) >= NEARLY:
        return False
    (x, y) = contour.points.T
    area = abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2.0
    return area >= SPECK or Polygon(contour.points).convex_hull.area >= 2.0 * SPECK


def _might_be_panel(contour: Contour, panels: Sequence[BaseGeometry]) -> bool:
    """Whether an open line goes round so much that it was probably meant as the panel."""
    if len(contour.points) < 3:
        return False
    hull = shapely.convex_hull(shapely.multipoints(contour.points))
    around = not panels or any(hull.covers(panel) for panel in panels)
    return around and hull.area >= PANEL


def _no_panel(shape: Shape, contour: Contour) -> Finding:
    x, y = (contour.points[0] + contour.points[-1]) / 2.0
    return Finding(
        CODE,
        "note",
        (float(x), float(y)),
        (shape.id,),
        say(
            "This outline is open ({gap} mm between its ends), so it is no panel.",
            gap=decimal(f"{end_gap(contour):.1f}"),
        ),
        say("Close it with the node tool if it is the edge of the panel."),
    )


def _gap(shape: Shape, contour: Contour, within: bool) -> Finding:
    first, last = contour.points[0], contour.points[-1]
    middle = (first + last) / 2.0
    size = decimal(f"{hypot(*(last - first)):.2f}".rstrip("0").rstrip("."))
    if within:
        message = say(
            "The window's outline has a {gap} mm gap here, so I take it as a pen line.", gap=size
        )
    else:
        message = say("This outline has a {gap} mm gap here, so I take it as a pen line.", gap=size)
    return Finding(
        CODE,
        "note",
        (float(middle[0]), float(middle[1])),
        (shape.id,),
        message,
        say("Close it with the node tool."),
    )


def _score_lines(scores: Sequence[tuple[Shape, Contour]]) -> Finding:
    """All score lines in one note, at the middle of the uppermost one."""
    middles = [_middle(contour) for _, contour in scores]
    ids = tuple(dict.fromkeys(shape.id for shape, _ in scores))
    message = say_count(
        "A line on the panel does not close: I take it as a score or pen line.",
        "{number} lines on the panel do not close: I take them as score or pen lines.",
        len(scores),
    )
    return Finding(
        CODE,
        "note",
        min(middles, key=lambda p: (p[1], p[0])),
        ids,
        message,
        say("Nothing to do. Close a line with the node tool if it is the edge of a window."),
    )


def _middle(contour: Contour) -> tuple[float, float]:
    place = shapely.line_interpolate_point(
        shapely.linestrings(contour.points), 0.5, normalized=True
    )
    return (float(place.x), float(place.y))
