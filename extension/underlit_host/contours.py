"""Outlines in user units to contours in page mm, many at once."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from underlit.geometry.flatten import flatten
from underlit.model.drawing import Contour

from .paths import ARC, Outline, Row
from .transforms import Matrix, carry

#: None: a number is not finite or too far away.
Contours = tuple[Contour, ...] | None


def make_contours(outlines: Sequence[tuple[Outline, Matrix]]) -> list[Contours]:
    """Contours of each outline under its map; subpaths of no length are left out."""
    rows: list[Row] = []
    counts: list[int] = []
    closed: list[bool] = []
    maps: list[Matrix] = []
    for outline, matrix in outlines:
        for segments, closes in outline:
            rows += segments
            counts.append(len(segments))
            closed.append(closes)
            maps.append(matrix)
    flat = flatten(
        np.array(rows, dtype=float).reshape(-1, 9),
        np.array(counts, dtype=np.int64),
        np.array(closed, dtype=bool),
        np.array(maps, dtype=float).reshape(-1, 6),
    )
    starts, readable = flat.starts.tolist(), flat.readable.tolist()
    result: list[Contours] = []
    place = 0
    for outline, _ in outlines:
        here = range(place, place + len(outline))
        place += len(outline)
        if not all(readable[i] for i in here):
            result.append(None)
            continue
        result.append(
            tuple(
                Contour(
                    flat.points[starts[i] : starts[i + 1]],
                    flat.turns[starts[i] : starts[i + 1]],
                    closed[i],
                )
                for i in here
                if starts[i + 1] > starts[i]
            )
        )
    return result


def middle(outline: Outline, matrix: Matrix) -> tuple[float, float] | None:
    """Middle of the box about an outline's nodes in page mm, None where that is no place."""
    points: list[tuple[float, float]] = []
    for segments, _ in outline:
        for kind, a, b, c, d, e, f, g, h in segments:
            if kind == ARC:
                across, down = abs(c) + abs(e), abs(d) + abs(f)
                points += [carry(matrix, a - across, b - down), carry(matrix, a + across, b + down)]
            else:
                last = (c, d) if kind == 0.0 else (g, h)
                points += [carry(matrix, a, b), carry(matrix, *last)]
    if not points:
        return None
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return place_on_page((min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0)


def place_on_page(x: float, y: float) -> tuple[float, float] | None:
    """A place, None where it is not finite or beyond all measure."""
    return (x, y) if abs(x) < 1e6 and abs(y) < 1e6 else None
