"""Room for marks: beside their places, apart from each other, clear of every fault.

Greedy, in the order of the numbers: each mark takes the first free spot around its place, nearest
ring first, up and to the right first. Spots are looked up in grids, so that the work grows with
the number of marks (and with how crowded it is), not with its square.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, cos, hypot, isfinite, radians, sin

from .primitives import Box, Point

#: How far a mark with its halo reaches from its centre (mm).
REACH = 4.2

#: Centres of two marks are at least this far apart (mm).
APART = 2.0 * REACH + 0.3

#: A mark keeps this distance from the place of any fault, its own included (mm).
CLEAR = REACH + 1.2

#: Distances of a mark from its place that are tried first, with the way to it kept free (mm).
NEAR = (7.4, 11.0, 15.0)

#: Further rings, when all of that is taken (mm).
STEP = 5.0

#: First direction that is tried (degrees, clockwise from the right): up and to the right.
FIRST = -45.0

#: Places further off than this are no places (mm).
FARTHEST = 1.0e6

#: Distance of the points by which a leader line is kept free (mm).
SAMPLE = 2.0

_CELL = APART
_AROUND = tuple((i, j) for i in (-1, 0, 1) for j in (-1, 0, 1))


def is_place(at: Point | None) -> bool:
    """Whether a mark can be drawn there."""
    return at is not None and all(isfinite(v) and abs(v) <= FARTHEST for v in at)


def place_marks(places: Sequence[Point], page: Box, seen: Sequence[Point] = ()) -> list[Point]:
    """Centres of the marks of these places (mm), in the same order; `seen` are more points that
    no mark may hide.

    Sought in turn: inside the page (for places inside it) with the leader line free; anywhere
    with it free; anywhere.
    """
    ground = _Ground(page)
    for place in (*places, *seen):
        ground.dots.add(place)
    return [ground.settle(place) for place in places]


class _Points:
    """Points in a grid of cells; `near` asks for any within `reach` (at most one cell)."""

    def __init__(self) -> None:
        self.cells: dict[tuple[int, int], list[Point]] = {}

    def add(self, point: Point) -> None:
        self.cells.setdefault(_cell_of(point), []).append(point)

    def near(self, point: Point, reach: float) -> bool:
        x, y = point
        i, j = _cell_of(point)
        get = self.cells.get
        for di, dj in _AROUND:
            for px, py in get((i + di, j + dj), ()):
                if hypot(px - x, py - y) < reach:
                    return True
        return False


class _Ground:
    """What is taken so far."""

    def __init__(self, page: Box) -> None:
        self.page = page
        self.dots = _Points()
        self.discs = _Points()
        self.ways = _Points()
        #: cell of a place -> (no tidy spot left there, first ring that may have room)
        self.full: dict[tuple[int, int], tuple[bool, int]] = {}

    def settle(self, place: Point) -> Point:
        """Find a spot for the mark of a place and take it."""
        centre = self._tidy_spot(place) or self._any_spot(place)
        self.discs.add(centre)
        for point in _samples(place, centre):
            self.ways.add(point)
        return centre

    def _tidy_spot(self, place: Point) -> Point | None:
        """A near spot with a free way to it, inside the page if it can be."""
        if self.full.get(_cell_of(place), (False, 0))[0]:
            return None
        outside = None
        inside_page = self._inside(place, 0.0)
        for distance in NEAR:
            for centre in _ring(place, distance, 24):
                if outside is not None and not self._inside(centre, REACH):
                    continue
                if not self._free(centre) or not self._way_free(place, centre):
                    continue
                if not inside_page or self._inside(centre, REACH):
                    return centre
                outside = centre
        if outside is None:
            self.full[_cell_of(place)] = (True, 0)
        return outside

    def _any_spot(self, place: Point) -> Point:
        cell = _cell_of(place)
        ring = self.full.get(cell, (True, 0))[1]
        while True:
            distance = NEAR[0] + ring * STEP
            for centre in _ring(place, distance, max(24, ceil(1.6 * distance))):
                if self._free(centre):
                    self.full[cell] = (True, ring)
                    return centre
            ring += 1

    def _free(self, centre: Point) -> bool:
        return not (self.discs.near(centre, APART) or self.dots.near(centre, CLEAR))

    def _way_free(self, place: Point, centre: Point) -> bool:
        """No other mark on the leader line, and this mark on no other leader line."""
        if self.ways.near(centre, REACH + 0.4):
            return False
        return not any(self.discs.near(point, REACH + 0.4) for point in _samples(place, centre))

    def _inside(self, point: Point, margin: float) -> bool:
        x, y = point
        left, top, right, bottom = self.page
        return left + margin <= x <= right - margin and top + margin <= y <= bottom - margin


def _cell_of(point: Point) -> tuple[int, int]:
    return (int(point[0] // _CELL), int(point[1] // _CELL))


def _ring(place: Point, distance: float, count: int) -> Iterator[Point]:
    """Spots on a ring: the first direction, then to both sides of it in turn."""
    for k in range(count):
        turn = (k + 1) // 2 * (1 if k % 2 else -1)
        angle = radians(FIRST + 360.0 * turn / count)
        yield (place[0] + distance * cos(angle), place[1] + distance * sin(angle))


def _samples(place: Point, centre: Point) -> list[Point]:
    """Points on a leader line outside its own mark."""
    dx, dy = place[0] - centre[0], place[1] - centre[1]
    length = hypot(dx, dy)
    count = int((length - REACH) / SAMPLE)
    return [
        (place[0] - dx * k * SAMPLE / length, place[1] - dy * k * SAMPLE / length)
        for k in range(count + 1)
    ]
