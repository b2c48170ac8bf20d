"""How much of a pad the tape at its node covers."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

At = tuple[float, float]


def share(pad: BaseGeometry, at: At, around: Sequence[At], half: float, folded: bool) -> float:
    """Share of a pad under strips from `at` to the places around.

    `folded`: the first two are one bent strip with a round corner; others end square at `at`.
    """
    if not around:
        return 0.0
    if folded and len(around) > 1:
        lines = [LineString([around[0], at, around[1]])]
        lines += [LineString([at, p]) for p in around[2:]]
    else:
        lines = [LineString([at, p]) for p in around]
    tape = shapely.buffer(lines, half, quad_segs=4, cap_style="flat", join_style="round")
    on = shapely.intersection(tape, pad)
    whole = on[0] if len(on) == 1 else shapely.union_all(on)
    return float(whole.area / pad.area)
