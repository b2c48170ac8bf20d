"""Outlines of open icon sets as openings (see icons.tsv for sets, names and license)."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from underlit.geometry.filling import fill_rings
from underlit.geometry.flatten import flatten
from underlit_host.paths import read_path

FILE = Path(__file__).parent / "icons.tsv"

#: Longest side of the n-th icon (mm), in turn.
SIZES = (9.0, 14.0, 20.0, 27.0, 36.0)


@cache
def icons() -> tuple[tuple[str, BaseGeometry], ...]:
    """(set/name, largest painted piece with its holes, top left at 0, 0) of every icon."""
    lines = FILE.read_text(encoding="utf-8").splitlines()
    found = []
    for line in lines:
        if not line.startswith("#"):
            group, name, d = line.split("\t")
            found.append((f"{group}/{name}", _piece(d, SIZES[len(found) % len(SIZES)])))
    return tuple(found)


def sized(area: BaseGeometry, size: float, at: tuple[float, float]) -> BaseGeometry:
    """An area with a longest side of `size` mm, the middle of its bounds at `at`."""
    left, top, right, bottom = area.bounds
    factor = size / max(right - left, bottom - top)
    shifted = affinity.translate(area, at[0] - (left + right) / 2.0, at[1] - (top + bottom) / 2.0)
    return affinity.scale(shifted, factor, factor, origin=at)


def _piece(d: str, size: float) -> BaseGeometry:
    subpaths = [rows for rows, _ in read_path(d) if rows]
    unit = (
        size / 256.0
        if max(abs(v) for rows in subpaths for r in rows for v in r[1:3]) > 20
        else (size / 16.0)
    )
    flat = flatten(
        np.concatenate([np.array(rows) for rows in subpaths]),
        np.array([len(rows) for rows in subpaths]),
        np.ones(len(subpaths), dtype=bool),
        np.tile([unit, 0.0, 0.0, unit, 0.0, 0.0], (len(subpaths), 1)),
    )
    rings = [flat.points[a:b] for a, b in zip(flat.starts, flat.starts[1:], strict=False)]
    area = fill_rings([ring for ring in rings if len(ring) > 2], "nonzero")
    largest = max(shapely.get_parts(area), key=lambda part: part.area)
    return sized(largest, size, (size / 2.0, size / 2.0))
