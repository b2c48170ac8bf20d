"""Lines that close only together: each is open, but their ends meet (exchanged files)."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from ..connectivity.groups import connected, members
from ..language import say, say_count
from ..model.drawing import Contour, Shape
from ..model.finding import Finding
from .contours import CLOSED_GAP, SPECK

#: A line with the shape that draws it.
Line = tuple[Shape, Contour]


def chains(lines: Sequence[Line]) -> list[list[int]]:
    """Groups of open lines, by index, that go round together from end to end.

    Ends meet within the gap that also closes a single line. A group of lines goes round where
    it has at least as many lines as places at which ends meet, and encloses more than a speck.
    """
    if len(lines) < 2:
        return []
    ends = np.concatenate([contour.points[[0, -1]] for _, contour in lines])
    points = shapely.points(ends)
    near = shapely.STRtree(points).query(points, predicate="dwithin", distance=CLOSED_GAP + 1e-6)
    a, b = near[:, near[0] < near[1]]
    places = connected(len(points), zip(a.tolist(), b.tolist(), strict=True))
    joints = [(places[2 * i], places[2 * i + 1]) for i in range(len(lines))]
    groups = connected(len(points), joints)
    found = members([groups[start] for start, _ in joints]).values()
    return [group for group in found if _goes_round(group, joints, lines)]


def _goes_round(
    group: Sequence[int], joints: Sequence[tuple[int, int]], lines: Sequence[Line]
) -> bool:
    if len(group) < 2 or len(group) < len({place for i in group for place in joints[i]}):
        return False
    points = np.concatenate([lines[i][1].points for i in group])
    return bool(shapely.convex_hull(shapely.multipoints(points)).area >= SPECK)


def chain_finding(lines: Sequence[Line], groups: Sequence[Sequence[int]]) -> Finding:
    """outline-open: one note for all lines that close only together, at the uppermost place."""
    chained = [lines[i] for group in groups for i in group]
    ends = np.concatenate([contour.points[:1] for _, contour in chained])
    x, y = ends[np.lexsort((ends[:, 0], ends[:, 1]))[0]]
    message = say_count(
        "{lines} lines make an outline only together: their ends meet but are not joined, so I "
        "take them as pen lines.",
        "{lines} lines make {number} outlines only together: their ends meet but are not joined, "
        "so I take them as pen lines.",
        len(groups),
        lines=len(chained),
    )
    return Finding(
        "outline-open",
        "note",
        (float(x), float(y)),
        tuple(dict.fromkeys(shape.id for shape, _ in chained)),
        message,
        say("Select them and use Path > Combine, then select all nodes and join them (node tool)."),
    )
