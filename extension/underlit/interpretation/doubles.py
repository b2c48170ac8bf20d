"""Lines that are drawn twice: coincident outlines and double lines count once.

Tracing and stroke-to-path give each cut two lines, the edges of the pen. Two outlines are one
where each keeps within 0.6 mm of the other all round (at corners, within the miter of that,
at the tips of a drawn line somewhat more).
Of the lines of one cut the outermost is kept, for panel, opening and piece alike: every edge
is then off by the same half pen, and sizes of openings are those of the pieces cut out.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ..connectivity.groups import connected, members
from ..language import say, say_count
from ..model.finding import Finding
from ..records import record
from ..units import TOLERANCE
from .contours import Outline

#: Two outlines that keep within this of each other are a double line (mm).
DOUBLE = 0.6

#: How far a corner's miter may reach, as a multiple of the distance (SVG's own default).
MITER = 4.0

#: The same for the edges of a drawn line: a tip of 15 degrees (2 asin(1/8)).
TIP = 8.0

#: A drawn line is locally this much wider than in the mean (grain of a scan at 120 dpi).
GRAIN = 1.25

#: At tips the edges of a drawn line may be this much farther apart (2 w / (1 + sin of half the
#: tip's angle) for a line of width w, measured up to 1.5 of the reach on traced pen lines).
WIDER = 1.6


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
    areas = np.array([o.area for o in outlines], dtype=object)
    sizes = shapely.area(areas)
    pairs = [(i, j) for i, j in _candidates(areas, sizes) if _double(areas[i], areas[j])]
    pairs = _without_lids(outlines, areas, sizes, pairs)
    groups = members(connected(len(outlines), pairs)).values()
    cuts = sorted(sorted(group, key=lambda i: (-round(sizes[i], 3), i)) for group in groups)
    return Merged(
        tuple(outlines[cut[0]] for cut in cuts),
        tuple(tuple(outlines[i] for i in cut[1:]) for cut in cuts),
        tuple(sum(_same(areas[cut[0]], areas[i]) for i in cut[1:]) for cut in cuts),
    )


def _without_lids(
    outlines: Sequence[Outline],
    areas: np.ndarray,
    sizes: np.ndarray,
    pairs: Sequence[tuple[int, int]],
) -> list[tuple[int, int]]:
    """The pairs but for a glued piece and the opening that it nearly fills.

    A piece lies in an opening: an even number of cuts lie round it, the opening among them.
    Lines on top of each other stay one.
    """
    glued = [o.shape.attributes.get("glued") == "true" for o in outlines]
    mixed = [(i, j) for i, j in pairs if glued[i] != glued[j]]
    if not mixed:
        return list(pairs)
    kept = [pair for pair in pairs if pair not in mixed]
    cut = connected(len(outlines), kept)
    for i, j in mixed:
        lid, other = (i, j) if glued[i] else (j, i)
        inside = shapely.contains(areas, areas[lid].representative_point())
        around = {cut[k] for k in np.flatnonzero(inside & (sizes > sizes[lid])).tolist()}
        if cut[other] not in around or len(around) % 2 or _same(areas[i], areas[j]):
            kept.append((i, j))
    return kept


def _candidates(areas: np.ndarray, sizes: np.ndarray) -> list[tuple[int, int]]:
    """Pairs i < j that may be double: alike in place, extent and size, or a thin band."""
    if len(areas) < 2:
        return []
    reach = DOUBLE + TOLERANCE
    centres = shapely.centroid(areas)
    a, b = shapely.STRtree(centres).query(centres, predicate="dwithin", distance=4.0 * reach)
    a, b = a[a < b], b[a < b]
    bounds, length = shapely.bounds(areas), shapely.length(areas)
    off = bounds[a] - bounds[b]
    apart = np.abs(off).max(axis=1)
    off[:, 2:] *= -1.0
    nested = (off < TOLERANCE).all(axis=1) | (off > -TOLERANCE).all(axis=1)
    band = np.abs(sizes[a] - sizes[b]) / np.maximum(length[a], length[b])
    alike = (apart <= MITER * reach) & (band <= MITER * reach)
    alike &= shapely.distance(centres[a], centres[b]) <= 2.0 * reach
    fits = alike | (nested & (band <= reach) & (apart <= TIP * reach))
    return [(int(i), int(j)) for i, j in zip(a[fits], b[fits], strict=True)]


def _double(a: Polygon, b: Polygon) -> bool:
    """Whether each outline keeps within 0.6 mm of the other all round."""
    reach = DOUBLE + TOLERANCE
    if _keeps_near(a, b, reach):
        return True
    return _pen_edges(a, b, reach) if a.area > b.area else _pen_edges(b, a, reach)


def _pen_edges(a: Polygon, b: Polygon, reach: float) -> bool:
    """Whether b in a is the inner edge of a drawn line, but for the tips.

    Where a line comes back sharply its inner edge ends far behind the outer one, the more so as
    tracers round it. In the mean the edges are no farther apart than the reach, all of the
    inner one keeps near the outer one, and the gap at tips is hardly wider than the line.
    """
    if not a.buffer(TOLERANCE).covers(b):
        return False
    band = a.difference(b)
    return bool(
        2.0 * band.area <= reach * (a.length + b.length)
        and _within(a.buffer(-GRAIN * reach), b)
        and band.buffer(-WIDER * reach / 2.0).is_empty
        and b.buffer(TIP * reach).covers(a)
    )


def _keeps_near(a: Polygon, b: Polygon, reach: float) -> bool:
    """Whether widening and narrowing either outline by the reach covers the other's line."""
    return bool(
        _widened(a, reach).covers(b)
        and _widened(b, reach).covers(a)
        and _within(_widened(b, -reach), a)
        and _within(_widened(a, -reach), b)
    )


def _widened(area: Polygon, by: float) -> Polygon:
    return area.buffer(by, join_style="mitre", mitre_limit=MITER)


def _within(core: BaseGeometry, area: Polygon) -> bool:
    """Whether an area covers what is left of the other (thin shapes leave nothing)."""
    return bool(core.is_empty or area.covers(core))


def _same(a: Polygon, b: Polygon) -> bool:
    """Whether two outlines coincide within the tolerance."""
    return bool(
        a.buffer(TOLERANCE, join_style="mitre").covers(b)
        and b.buffer(TOLERANCE, join_style="mitre").covers(a)
    )


def doubled_findings(merged: Merged) -> list[Finding]:
    """outline-doubled: one note for each object with lines that are drawn twice."""
    by_object: dict[str, list[tuple[Outline, tuple[Outline, ...]]]] = {}
    for kept, more in zip(merged.outlines, merged.double, strict=True):
        if more:
            by_object.setdefault(kept.shape.id, []).append((kept, more))
    return [_twice(cuts) for cuts in by_object.values()]


def _twice(cuts: Sequence[tuple[Outline, tuple[Outline, ...]]]) -> Finding:
    lines = [outline for kept, more in cuts for outline in (kept, *more)]
    x, y = min((tuple(kept.area.exterior.coords[0]) for kept, _ in cuts), key=lambda p: p[::-1])
    message = say_count(
        "This outline is drawn twice.",
        "{number} outlines of this object are drawn twice.",
        len(cuts),
    )
    return Finding(
        "outline-doubled",
        "note",
        (float(x), float(y)),
        tuple(dict.fromkeys(outline.shape.id for outline in lines)),
        message,
        say("Nothing to do, I use the outer line."),
    )
