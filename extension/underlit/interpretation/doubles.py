"""Lines that are drawn twice: coincident outlines and double lines count once.

Tracing and stroke-to-path give each cut two lines, the edges of the pen. Two outlines are one
where each keeps within 0.6 mm of the other all round (at corners, within the miter of that).
Of the lines of one cut the outermost is kept, for panel, opening and piece alike: every edge
is then off by the same half pen, and sizes of openings are those of the pieces cut out.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon

from ..records import record
from ..units import TOLERANCE
from .contours import Outline

#: Two outlines that keep within this of each other are a double line (mm).
DOUBLE = 0.6

#: How far a corner's miter may reach, as a multiple of the distance (SVG's own default).
MITER = 4.0


@record
class Merged:
    """Outlines that count, each with those that it stands for.

    `double[i]` are the further outlines of cut i; `same[i]` how many of them coincide with it.
    """

    outlines: tuple[Outline, ...]
    double: tuple[tuple[Outline, ...], ...]
    same: tuple[int, ...]

    def flagged(self, name: str, value: str) -> list[bool]:
        """Whether any line of each cut carries an attribute."""
        return [
            any(o.shape.attributes.get(name) == value for o in (kept, *more))
            for kept, more in zip(self.outlines, self.double, strict=True)
        ]


def merge_doubles(outlines: Sequence[Outline]) -> Merged:
    """Take outlines that are drawn twice as one; order as drawn."""
    leader = list(range(len(outlines)))
    areas = np.array([o.area for o in outlines], dtype=object)
    sizes = shapely.area(areas)
    for i, j in _candidates(areas, sizes):
        if _double(areas[i], areas[j]):
            _join(leader, i, j)
    groups: dict[int, list[int]] = {}
    for i in range(len(outlines)):
        groups.setdefault(_root(leader, i), []).append(i)
    cuts = sorted(sorted(group, key=lambda i: (-sizes[i], i)) for group in groups.values())
    return Merged(
        tuple(outlines[cut[0]] for cut in cuts),
        tuple(tuple(outlines[i] for i in cut[1:]) for cut in cuts),
        tuple(sum(_same(areas[cut[0]], areas[i]) for i in cut[1:]) for cut in cuts),
    )


def _candidates(areas: np.ndarray, sizes: np.ndarray) -> list[tuple[int, int]]:
    """Pairs i < j that may be double: alike in place, extent and size."""
    if len(areas) < 2:
        return []
    reach = DOUBLE + TOLERANCE
    centres = shapely.centroid(areas)
    a, b = shapely.STRtree(centres).query(centres, predicate="dwithin", distance=2.0 * reach)
    a, b = a[a < b], b[a < b]
    bounds = shapely.bounds(areas)
    apart = np.abs(bounds[a] - bounds[b]).max(axis=1)
    length = shapely.length(areas)
    band = MITER * reach * np.maximum(length[a], length[b])
    fits = (apart <= MITER * reach) & (np.abs(sizes[a] - sizes[b]) <= band)
    return [(int(i), int(j)) for i, j in zip(a[fits], b[fits], strict=True)]


def _double(a: Polygon, b: Polygon) -> bool:
    """Whether each outline keeps within 0.6 mm of the other all round."""
    reach = DOUBLE + TOLERANCE
    return (
        _widened(a, reach).covers(b)
        and _widened(b, reach).covers(a)
        and a.covers(_widened(b, -reach))
        and b.covers(_widened(a, -reach))
    )


def _widened(area: Polygon, by: float) -> Polygon:
    return area.buffer(by, join_style="mitre", mitre_limit=MITER)


def _same(a: Polygon, b: Polygon) -> bool:
    """Whether two outlines coincide within the tolerance."""
    return bool(
        a.buffer(TOLERANCE, join_style="mitre").covers(b)
        and b.buffer(TOLERANCE, join_style="mitre").covers(a)
    )


def _root(leader: list[int], i: int) -> int:
    while leader[i] != i:
        leader[i] = leader[leader[i]]
        i = leader[i]
    return i


def _join(leader: list[int], i: int, j: int) -> None:
    a, b = _root(leader, i), _root(leader, j)
    leader[max(a, b)] = min(a, b)
