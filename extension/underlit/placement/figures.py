"""The shapes of a light at given places and turns: body, feet, lens, and the tape that lands.

A light's own origin is the middle of its lens; +x runs from its minus foot to its plus foot. Turns
are in degrees, clockwise on screen (y down).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..profiles import LightType
from ..records import record

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

#: Corners of a lens as it is measured (its area is then 0.2 % short, in and out alike).
LENS_QUARTER = 16

_CORNERS = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])


@record
class Poses:
    """Lights of one type at k places and turns.

    `centres` is (k, 2) mm, `turns` (k,) degrees; `bodies`, `plus` and `minus` are (k,) arrays of
    polygons.
    """

    centres: Floats
    turns: Floats
    bodies: np.ndarray
    plus: np.ndarray
    minus: np.ndarray

    def __len__(self) -> int:
        return len(self.turns)


def poses(light: LightType, centres: Floats, turns: Floats) -> Poses:
    """The shapes of a light at (k, 2) places and (k,) turns."""
    arm = light.pad_pitch / 2.0
    return Poses(
        centres,
        turns,
        boxes(centres, turns, light.body),
        boxes(centres, turns, light.pad, arm),
        boxes(centres, turns, light.pad, -arm),
    )


def only(every: Poses, which: Sequence[int] | np.ndarray) -> Poses:
    """Some of many poses."""
    return Poses(
        every.centres[which],
        every.turns[which],
        every.bodies[which],
        every.plus[which],
        every.minus[which],
    )


def boxes(
    centres: Floats, turns: Floats, size: tuple[float, float], along: float = 0.0
) -> np.ndarray:
    """(k,) rectangles of one size, shifted along their own x by `along` (mm)."""
    own = _CORNERS * size + (along, 0.0)
    angles = np.deg2rad(turns)[:, None]
    cosine, sine = np.cos(angles), np.sin(angles)
    x = centres[:, :1] + own[:, 0] * cosine - own[:, 1] * sine
    y = centres[:, 1:] + own[:, 0] * sine + own[:, 1] * cosine
    return np.atleast_1d(shapely.polygons(np.stack([x, y], axis=2)))


def landings(light: LightType, found: Poses, width: float) -> np.ndarray:
    """(k, 2) rectangles of tape that must lie at the plus and the minus foot to feed it.

    Each is as wide as the tape (mm), covers its foot and runs on outward by the tape's width.
    """
    size = (light.pad[0] + width, max(width, light.pad[1]))
    along = (light.pad_pitch + width) / 2.0
    ends = [boxes(found.centres, found.turns, size, way * along) for way in (1.0, -1.0)]
    return np.stack(ends, axis=1)


def lens_share(clear: BaseGeometry, at: tuple[float, float], diameter: float) -> float:
    """Share of the lens that is seen through what stays open, 0 to 1."""
    lens = shapely.Point(at).buffer(diameter / 2.0, quad_segs=LENS_QUARTER)
    return float(min(lens.intersection(clear).area / lens.area, 1.0))


def reach(light: LightType) -> float:
    """How far the shapes of a light reach from its lens (mm)."""
    foot = (light.pad_pitch + light.pad[0]) / 2.0
    return max(math.hypot(*light.body) / 2.0, math.hypot(foot, light.pad[1] / 2.0))
