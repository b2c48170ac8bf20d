"""Which pieces the tape of a card is cut in."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from ..model.case import Case
from ..units import TOLERANCE
from .cut import Piece

#: How labels begin: plus, minus, neither.
LETTERS = {"positive": "P", "negative": "M", None: "T"}


def strips_as_pieces(case: Case, areas: Sequence[BaseGeometry]) -> list[Piece]:
    """One piece per strip; `areas` are the strips' outlines as they shall be cut."""
    groups = [(i,) for i in range(len(case.card.strips))]
    return _labelled(case, groups, [group[0] for group in groups], areas)


def whole_pieces(case: Case, areas: Sequence[BaseGeometry]) -> list[Piece]:
    """One piece per connected shape of one side: strips that conduct into each other are one.

    A shape is laid when the uppermost of its strips that lies over another side is. Shapes that
    would have to lie over and under each other stay single strips.
    """
    across = _crossings(case, connected(case))
    groups = connected(case)
    while True:
        ranks = [_rank(group, across) for group in groups]
        of = {i: k for k, group in enumerate(groups) for i in group}
        bad = {of[i] for pair in across for i in pair if ranks[of[pair[0]]] >= ranks[of[pair[1]]]}
        bad = {k for k in bad if len(groups[k]) > 1}
        if not bad:
            break
        single: list[tuple[int, ...]] = [(i,) for k in sorted(bad) for i in groups[k]]
        groups = [group for k, group in enumerate(groups) if k not in bad] + single
    order = sorted(range(len(groups)), key=lambda k: ranks[k])
    unions = [shapely.union_all([areas[i] for i in groups[k]]) for k in order]
    return _labelled(case, [groups[k] for k in order], [ranks[k] for k in order], unions)


def _crossings(case: Case, groups: Sequence[tuple[int, ...]]) -> list[tuple[int, int]]:
    """(lower, upper) strips that overlap and do not belong together."""
    of = {i: k for k, group in enumerate(groups) for i in group}
    areas = np.array([strip.geometry for strip in case.card.strips], dtype=object)
    lower, upper = shapely.STRtree(areas).query(areas, predicate="intersects")
    pairs = zip(lower.tolist(), upper.tolist(), strict=True)
    return sorted((i, j) for i, j in pairs if i < j and of[i] != of[j])


def _rank(group: tuple[int, ...], across: Sequence[tuple[int, int]]) -> int:
    """The strip at whose turn a shape is laid."""
    over = [upper for _, upper in across if upper in group]
    return max(over) if over else group[0]


def connected(case: Case) -> list[tuple[int, ...]]:
    """Numbers of strips joined by overlaps that conduct, lowest first."""
    circuit, signs = case.circuit, case.signs
    leader = list(range(len(case.card.strips)))

    def find(i: int) -> int:
        while leader[i] != i:
            leader[i] = leader[leader[i]]
            i = leader[i]
        return i

    for k in circuit.live:
        a, b = circuit.contacts[k].upper, circuit.contacts[k].lower
        if max(a, b) < len(leader) and signs[a] == signs[b]:
            first, second = sorted((find(a), find(b)))
            leader[second] = first
    groups: dict[int, list[int]] = {}
    for i in range(len(leader)):
        groups.setdefault(find(i), []).append(i)
    return [tuple(group) for group in groups.values()]


def _labelled(
    case: Case,
    groups: Sequence[tuple[int, ...]],
    ranks: Sequence[int],
    areas: Sequence[BaseGeometry],
) -> list[Piece]:
    """Pieces numbered on each side in laying order."""
    counts = dict.fromkeys(LETTERS, 0)
    found = []
    for group, rank, area in zip(groups, ranks, areas, strict=True):
        sign = case.signs[group[0]]
        names = tuple(case.card.strips[i].name for i in group)
        for part in polygons(area):
            counts[sign] += 1
            label = f"{LETTERS[sign]}{counts[sign]}"
            found.append(Piece(label, part, names, sign, case.card.strips[rank].order))
    return found


def sheet_pieces(label: str, area: BaseGeometry, offered: bool = False) -> list[Piece]:
    """The separate pieces of a sheet, numbered where there are several."""
    parts = polygons(area)
    if len(parts) == 1:
        return [Piece(label, parts[0], offered=offered)]
    return [
        Piece(f"{label}-{n}", part, offered=offered, order=n) for n, part in enumerate(parts, 1)
    ]


def polygons(area: BaseGeometry) -> list[Polygon]:
    """The polygons of an area."""
    return [p for p in shapely.get_parts(area) if p.geom_type == "Polygon" and not p.is_empty]


def together(areas: Sequence[BaseGeometry] | np.ndarray) -> BaseGeometry:
    """All areas as one; where their boxes keep apart nothing needs to be worked out."""
    parts = shapely.get_parts(np.array(areas, dtype=object))
    if len(parts) and _apart(parts):
        return shapely.multipolygons(parts) if len(parts) > 1 else parts[0]
    return shapely.union_all(areas)


def simplified(area: BaseGeometry, tolerance: float) -> BaseGeometry:
    """An area without needless points (tolerance in mm); parts far apart one by one."""
    parts = shapely.get_parts(area)
    if len(parts) > 1 and _apart(parts):
        return shapely.multipolygons(shapely.simplify(parts, tolerance))
    return shapely.simplify(area, tolerance)


def _apart(parts: np.ndarray) -> bool:
    """Whether all are polygons with something inside whose boxes do not meet."""
    if not (shapely.get_type_id(parts) == shapely.GeometryType.POLYGON).all():
        return False
    if shapely.is_empty(parts).any():
        return False
    return len(shapely.STRtree(parts).query(parts)[0]) == len(parts)


def overlapping(pieces: Sequence[Piece]) -> np.ndarray:
    """(k, 2) pairs i < j of pieces that cannot be cut from one sheet where they lie."""
    areas = np.array([piece.area for piece in pieces], dtype=object)
    first, second = shapely.STRtree(areas).query(areas, predicate="dwithin", distance=TOLERANCE)
    keep = first < second
    order = np.lexsort((first[keep], second[keep]))
    return np.stack([first[keep][order], second[keep][order]], axis=1)


def levels(count: int, pairs: np.ndarray) -> list[int]:
    """For each of `count` pieces the sheet (from 0) on which it lies over all laid before it."""
    level = [0] * count
    for i, j in pairs.tolist():
        level[j] = max(level[j], level[i] + 1)
    return level


def spread(count: int, pairs: np.ndarray) -> list[int]:
    """For each of `count` pieces a sheet (from 0), so that those of no pair share one.

    Goes from neighbour to neighbour and takes the first sheet that is free: two sheets do
    wherever two can do.
    """
    near: dict[int, list[int]] = {}
    for i, j in pairs.tolist():
        near.setdefault(i, []).append(j)
        near.setdefault(j, []).append(i)
    sheet = [-1] * count
    for start in range(count):
        todo = deque([start] if sheet[start] < 0 else [])
        while todo:
            here = todo.popleft()
            if sheet[here] >= 0:
                continue
            taken = {sheet[other] for other in near.get(here, ())}
            sheet[here] = next(n for n in range(count + 1) if n not in taken)
            todo.extend(other for other in near.get(here, ()) if sheet[other] < 0)
    return sheet


def relabelled(piece: Piece, copy: int, copies: int) -> Piece:
    """The piece of one of several cards."""
    return piece if copies == 1 else replace(piece, label=f"{piece.label}-{copy}", copy=copy)
