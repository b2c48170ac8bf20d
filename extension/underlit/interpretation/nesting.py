"""Outlines sorted by nesting: panel, opening, loose piece, opening in it, and so on.

On even levels lies paper (panels, pieces): of lines that cross there the largest is the piece,
the others cut it. On odd levels paper is gone (openings): lines that cross or share an edge
there are one opening; what reaches the edge of its paper is a notch, not an opening.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import field

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..geometry.areas import sound
from ..geometry.relations import Relations
from ..records import record
from ..units import TOLERANCE


@record
class Paper:
    """A piece of paper: the outline it comes from, its area with notches cut, `notches` cut."""

    outline: int
    area: BaseGeometry
    notches: int
    openings: list[Hole] = field(default_factory=list)


@record
class Hole:
    """An opening: the outlines that make it up, in drawing order, and the pieces in it."""

    outlines: tuple[int, ...]
    area: BaseGeometry
    pieces: list[Paper] = field(default_factory=list)


class _Nest:
    """Outlines with their relations while they are being sorted."""

    def __init__(self, areas: np.ndarray, relations: Relations, fixed: Sequence[bool]) -> None:
        self.areas = areas
        self.sizes = shapely.area(areas)
        self.relations = relations
        pairs = relations.contains
        self.fixed = self._outermost(fixed, pairs)
        self.kept = self._kept(pairs)
        self.children: dict[int, list[int]] = {}
        parent = self._parents(pairs)
        for i in np.flatnonzero(self.kept).tolist():
            self.children.setdefault(parent[i], []).append(i)

    @staticmethod
    def _outermost(fixed: Sequence[bool], pairs: np.ndarray) -> np.ndarray:
        """Marked panels, those inside another marked one left out."""
        marked = np.array(fixed, dtype=bool)
        inner = pairs[marked[pairs[:, 0]], 1]
        outermost = marked.copy()
        outermost[inner] = False
        return outermost

    def _kept(self, pairs: np.ndarray) -> np.ndarray:
        """Where panels are marked: they, what lies in them, and what crosses their edge."""
        if not self.fixed.any():
            return np.ones(len(self.areas), dtype=bool)
        kept = self.fixed.copy()
        kept[pairs[self.fixed[pairs[:, 0]], 1]] = True
        for i in np.flatnonzero(self.fixed).tolist():
            kept[list(self.relations.crosses.get(i, ()))] = True
        return kept

    def _parents(self, pairs: np.ndarray) -> list[int]:
        """The smallest outline round each one, -1 for none."""
        outer, inner = pairs[:, 0], pairs[:, 1]
        use = self.kept[outer] & self.kept[inner] & ~self.fixed[inner]
        outer, inner = outer[use], inner[use]
        parent = np.full(len(self.areas), -1)
        for k in np.lexsort((outer, -self.sizes[outer])):
            parent[inner[k]] = outer[k]
        found: list[int] = parent.tolist()
        return found

    def papers(self, candidates: Iterable[int]) -> list[Paper]:
        """Pieces of paper among outlines of one even level, in drawing order."""
        order = sorted(candidates, key=lambda i: (not self.fixed[i], -self.sizes[i], i))
        accepted: set[int] = set()
        for i in order:
            if not self.relations.crosses.get(i, set()) & accepted:
                accepted.add(i)
        papers = (self._paper(i) for i in sorted(accepted))
        return [paper for paper in papers if not paper.area.is_empty]  # not cut away altogether

    def _paper(self, i: int) -> Paper:
        """One piece: what crosses its edge or runs along it is cut off, the rest are holes."""
        cutters = self.relations.crosses.get(i, set())
        inside = self.children.get(i, [])
        notches: list[BaseGeometry] = []
        holes: list[Hole] = []
        for group in self._groups(sorted({*inside, *cutters})):
            rims = any((i, j) in self.relations.rims for j in group)
            area = self._union(group)
            if rims or cutters & set(group):
                notches.append(area)
            else:
                holes.append(Hole(tuple(group), area))
        area = self.areas[i]
        if notches:
            area = sound(area.difference(shapely.union_all(notches)))
        return Paper(i, area, len(notches), holes)

    def _groups(self, members: Sequence[int]) -> list[list[int]]:
        """Outlines that cross or share an edge, directly or through others."""
        waiting = set(members)
        groups = []
        for first in members:
            if first not in waiting:
                continue
            waiting.discard(first)
            group, todo = [], [first]
            while todo:
                i = todo.pop()
                group.append(i)
                near = self.relations.crosses.get(i, set()) | self.relations.beside.get(i, set())
                todo += near & waiting
                waiting -= near
            groups.append(sorted(group))
        return groups

    def _union(self, group: Sequence[int]) -> BaseGeometry:
        """One area of several outlines, hairlines between neighbours closed."""
        if len(group) == 1:
            return self.areas[group[0]]
        together = shapely.union_all(self.areas[list(group)])
        if together.geom_type == "MultiPolygon":
            wide = together.buffer(TOLERANCE, join_style="mitre")
            together = wide.buffer(-TOLERANCE, join_style="mitre")
        return sound(together)


def nest(areas: np.ndarray, relations: Relations, fixed: Sequence[bool]) -> list[Paper]:
    """Panels with everything in them.

    `areas` are simple polygons (n,); `fixed` tells which are marked as panels: where any is,
    only what lies inside such a one (or cuts its edge) counts.
    """
    nest = _Nest(areas, relations, fixed)
    panels = nest.papers(nest.children.get(-1, []))
    todo = list(panels)
    while todo:
        for hole in todo.pop().openings:
            inside = [j for i in hole.outlines for j in nest.children.get(i, [])]
            hole.pieces.extend(nest.papers(inside))
            todo += hole.pieces
    return panels
