"""What a cutter is given: outlines on sheets."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon

from ..records import record


@record
class Piece:
    """A piece to be cut: an area in page mm (or sheet mm once it is placed).

    `label` is short (P1, M2, base); `strips` are the names of the strips that it holds;
    `sign` is positive | negative | None; `order` is its place in the laying order; `copy`
    counts from 1 where a sheet holds several cards.
    """

    label: str
    area: Polygon
    strips: tuple[str, ...] = ()
    sign: str | None = None
    order: int = 0
    copy: int = 1
    offered: bool = False


@record
class Outline:
    """Closed rings of (n, 2) mm each, inner ones first; the first point is not repeated.

    Two points are a line that is drawn there and back. `overcut` is how far the knife runs
    on past the start of each ring.
    """

    label: str
    rings: tuple[np.ndarray, ...]


@record
class Cut:
    """One sheet of one material.

    `size` is the sheet (width, height); `pen` says that the outlines are drawn and not cut;
    `mirrored` that it shows the card from behind. `travel` is the way of the raised knife.
    `scores` are open lines that a scoring tool follows and no knife.
    """

    material: str
    number: int
    size: tuple[float, float]
    outlines: tuple[Outline, ...]
    pieces: tuple[Piece, ...]
    pen: bool = False
    mirrored: bool = False
    travel: float = 0.0
    offered: bool = False
    scores: tuple[Outline, ...] = ()

    @property
    def name(self) -> str:
        """The material, with the number of every sheet after the first."""
        return self.material if self.number == 1 else f"{self.material}-{self.number}"

    @property
    def area(self) -> float:
        """Area of all pieces in mm2."""
        return float(sum(shapely.area([piece.area for piece in self.pieces]).tolist()))

    @property
    def length(self) -> float:
        """Way of the knife in mm."""
        return rings_length([ring for outline in self.outlines for ring in outline.rings])


def ring_length(ring: np.ndarray) -> float:
    """Length of a closed ring in mm."""
    return float(np.hypot(*(np.roll(ring, -1, axis=0) - ring).T).sum())


def rings_length(rings: Sequence[np.ndarray]) -> float:
    """Length of closed rings together in mm."""
    if not rings:
        return 0.0
    points = np.concatenate(rings)
    ends = np.cumsum([len(ring) for ring in rings])
    following = np.arange(1, len(points) + 1)
    following[ends - 1] = np.concatenate([[0], ends[:-1]])
    return float(np.hypot(*(points[following] - points).T).sum())
