"""Square pads in rows, shifted off what is in the way, and small ones where a gap is left.

Rows and columns are so near that pads on all of them support everything: of places between four
pads of side s at a distance p the middle one is (p - s) / sqrt 2 from them, half a span at most.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from .ground import BESIDE_FOAM
from .raster import Raster, places, sums_of, taken
from .support import to_boxes

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

#: Sizes of pads (mm), and for how many mm of shift each is as bad as the first: a hand cuts them.
SIZES = (
    ((8.0, 8.0), 0.0),
    ((6.0, 6.0), 3.0),
    ((4.0, 10.0), 4.0),
    ((10.0, 4.0), 4.0),
    ((4.0, 4.0), 6.0),
    ((3.0, 9.0), 7.0),
    ((9.0, 3.0), 7.0),
)
PAD = SIZES[0][0][0]

#: A row's place is left out where less than this share of its surroundings needs support.
NEEDED = 0.15


def pads(raster: Raster, points: Floats, far: Floats, half: float, step: float) -> Floats:
    """(k, 4) boxes that bring every place within `half` of foam, as far as there is room.

    `points` (n, 2) are the places of the panel, `far` (n,) their distance from foam so far. What
    lies between places `step` apart is at most step / sqrt 2 nearer or farther: they aim at less.
    """
    aim = max(half - step * math.sqrt(0.5), half / 2.0)
    raster, boxes, far = _rows(raster, points, far, aim)
    return _filled(raster, points, far, aim, boxes)


def _rows(
    raster: Raster, points: Floats, far: Floats, aim: float
) -> tuple[Raster, list[Floats], Floats]:
    before, boxes = far <= aim, []
    pitch = PAD + math.sqrt(2.0) * aim
    ys, xs = np.nonzero(raster.free)
    if not len(xs):
        return raster, [], far
    if before.all():
        return raster, [], far
    start, free = np.array([raster.left, raster.top]), np.column_stack([xs, ys])
    low = np.maximum(start + free.min(axis=0) * raster.cell, points[~before].min(axis=0))
    high = np.minimum(start + (free.max(axis=0) + 1) * raster.cell, points[~before].max(axis=0))
    columns, rows = (_line(a, b, pitch) for a, b in zip(low, high, strict=True))
    sums = sums_of(raster)
    for y in rows:
        for x in columns:
            near = (np.abs(points - (x, y)) <= pitch / 2.0).all(axis=1)
            if not near.any() or (near & ~before).sum() < NEEDED * near.sum():
                continue
            box = _nearest(raster, sums, (x, y), pitch / 2.0 - PAD / 4.0)
            if box is None:
                continue
            boxes.append(box)
            raster = taken(raster, tuple(box.tolist()), BESIDE_FOAM)
            sums = sums_of(raster)
            far = np.minimum(far, to_boxes(points, box[None])[:, 0])
    return raster, boxes, far


def _line(low: float, high: float, pitch: float) -> list[float]:
    """Middles of pads from one end to the other, at most a pitch apart."""
    room = high - low - PAD
    if room <= 0.0:
        return [(low + high) / 2.0]
    gaps = max(math.ceil(room / pitch - 1e-9), 1)
    return [low + PAD / 2.0 + room * k / gaps for k in range(gaps + 1)]


def _nearest(
    raster: Raster, sums: NDArray[np.int64], at: tuple[float, float], within: float
) -> Floats | None:
    """The free box that is least bad near a place: little shift, large."""
    best: tuple[float, Floats] | None = None
    for size, worse in SIZES:
        if best is not None and best[0] <= worse:
            continue
        found = places(raster, sums, size, at, within)
        if not len(found):
            continue
        shift = np.hypot(*(((found[:, :2] + found[:, 2:]) / 2.0 - at).T))
        k = int(np.round(shift, 6).argmin())
        if best is None or float(shift[k]) + worse < best[0] - 1e-6:
            best = (float(shift[k]) + worse, found[k])
    return None if best is None else best[1]


def _filled(raster: Raster, points: Floats, far: Floats, aim: float, rows: list[Floats]) -> Floats:
    """Pads more, each where it helps most near the place that is worst off."""
    more: list[Floats] = []
    lost = np.zeros(len(points), dtype=bool)
    sums = sums_of(raster)
    while True:
        open_ = (far > aim) & ~lost
        if not open_.any():
            break
        worst = int(np.where(open_, far, -1.0).argmax())
        box = _most_useful(raster, sums, points[worst], points[far > aim], aim)
        if box is None:
            lost[worst] = True
            lost |= np.hypot(*(points - points[worst]).T) < _room(raster, sums, points[worst], aim)
            continue
        more.append(box)
        raster = taken(raster, tuple(box.tolist()), BESIDE_FOAM)
        sums = sums_of(raster)
        far = np.minimum(far, to_boxes(points, box[None])[:, 0])
    return np.array([*rows, *_useful(points, far, aim, rows, more)]).reshape(-1, 4)


def _room(raster: Raster, sums: NDArray[np.int64], at: Floats, aim: float) -> float:
    """How far round a place (mm) no other place can be within `aim` of any pad that is free."""
    wide, nearest = 3.0 * aim, 3.0 * aim
    for size, _ in SIZES:
        found = places(raster, sums, size, (at[0], at[1]), wide + max(size))
        if len(found):
            nearest = min(nearest, float(to_boxes(at[None], found)[0].min()))
    return nearest - aim - 1e-6


def _most_useful(
    raster: Raster, sums: NDArray[np.int64], worst: Floats, open_: Floats, aim: float
) -> Floats | None:
    local = open_[(np.abs(open_ - worst) <= 2.0 * aim + 12.0).all(axis=1)]
    local = local[:: max(1, len(local) // 400)]
    best: tuple[float, Floats] | None = None
    for size, worse in SIZES:
        found = places(raster, sums, size, (worst[0], worst[1]), aim + max(size) / 2.0, 3)
        if not len(found):
            found = places(raster, sums, size, (worst[0], worst[1]), aim + max(size) / 2.0)
        found = found[to_boxes(worst[None], found)[0] <= aim] if len(found) else found
        if not len(found):
            continue
        gain = (to_boxes(local, found) <= aim).sum(axis=0) * (1.0 - 0.03 * worse)
        k = int(np.round(gain, 6).argmax())
        if best is None or gain[k] > best[0] + 1e-6:
            best = (float(gain[k]), found[k])
    return None if best is None else best[1]


def _useful(
    points: Floats, far: Floats, aim: float, rows: list[Floats], more: list[Floats]
) -> list[Floats]:
    """Without pads that later ones made needless."""
    kept = list(more)
    for box in reversed(more):
        rest = [other for other in kept if other is not box]
        near = to_boxes(points, box[None])[:, 0] <= aim
        others = np.array([*rows, *rest]).reshape(-1, 4)
        if not len(others):
            continue
        without = to_boxes(points[near], others).min(axis=1) <= aim
        if (without | (far[near] > aim)).all():
            kept = rest
    return kept
