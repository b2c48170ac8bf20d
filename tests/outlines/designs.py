"""Five dies of *Harbour Lane*, built so that everybody can count what is in them. Card mm.

A design is a panel, windows in it (solid) and pieces in the windows (solid). Windows keep clear
of each other and of the edge, so that the numbers of panels, openings and loose pieces are
simply 1, `len(windows)` and `len(pieces)`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

#: Windows and pieces keep at least this far apart, also for a coarse scan (mm).
BRIDGE = 1.4


@dataclass(frozen=True)
class Design:
    """One die: see the module."""

    name: str
    panel: Polygon
    windows: tuple[Polygon, ...]
    pieces: tuple[Polygon, ...] = ()

    def __post_init__(self) -> None:
        """The design's own count must be sound."""
        rings = [self.panel.exterior, *(w.exterior for w in (*self.windows, *self.pieces))]
        tree = shapely.STRtree(rings)
        a, b = tree.query(rings, predicate="dwithin", distance=BRIDGE)
        close = [(int(i), int(j)) for i, j in zip(a, b, strict=True) if i < j]
        if close:
            raise ValueError(f"{self.name}: outlines nearer than {BRIDGE} mm: {close}")
        if not all(self.panel.contains(w) and w.area > 4.0 for w in self.windows):
            raise ValueError(f"{self.name}: a window is too small or outside")
        if not all(sum(w.contains(p) for w in self.windows) == 1 for p in self.pieces):
            raise ValueError(f"{self.name}: a piece is in no window")

    @property
    def paper(self) -> BaseGeometry:
        """What is left once everything is cut."""
        gone = shapely.union_all(self.windows)
        return shapely.union_all([self.panel.difference(gone), *self.pieces])

    @property
    def outlines(self) -> tuple[Polygon, ...]:
        """All lines that are cut, the panel's first."""
        return (self.panel, *self.windows, *self.pieces)


def disc(x: float, y: float, r: float, steps: int = 48) -> Polygon:
    """A circle as a polygon."""
    turns = [2 * math.pi * k / steps for k in range(steps)]
    return Polygon([(x + r * math.cos(t), y + r * math.sin(t)) for t in turns])


def box(x: float, y: float, w: float, h: float) -> Polygon:
    """A rectangle by its upper left corner."""
    return shapely.box(x, y, x + w, y + h)


def star(x: float, y: float, r: float, points: int = 5, inner: float = 0.45) -> Polygon:
    """A star, one point upwards."""
    corners = []
    for k in range(2 * points):
        radius = r if k % 2 == 0 else inner * r
        a = math.pi * k / points - math.pi / 2
        corners.append((x + radius * math.cos(a), y + radius * math.sin(a)))
    return Polygon(corners)


def arch(x: float, y: float, w: float, h: float) -> Polygon:
    """A window with a round head, by the upper left corner of the box round it."""
    r = w / 2
    head = [math.pi * (1 + k / 16) for k in range(17)]
    top = [(x + r + r * math.cos(t), y + r + r * math.sin(t)) for t in head]
    return Polygon([*top, (x + w, y + h), (x, y + h)])


def leaf(x: float, y: float, length: float, width: float, angle: float) -> Polygon:
    """A pointed leaf from its foot at (x, y), `angle` in degrees clockwise from the right."""
    side = [(t / 12 * length, width / 2 * math.sin(math.pi * t / 12)) for t in range(13)]
    points = side + [(a, -b) for a, b in side[-2:0:-1]]
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return Polygon([(x + c * a - s * b, y + s * a + c * b) for a, b in points])


def plate(w: float, h: float, r: float, x: float = 0.0, y: float = 0.0) -> Polygon:
    """A rectangle with rounded corners."""
    return shapely.box(x + r, y + r, x + w - r, y + h - r).buffer(r, quad_segs=6)


def lantern() -> Design:
    """Three panes, six stars, a moon with a star in it."""
    panes = [box(24, 60, 12, 34), box(40, 56, 14, 38), box(58, 60, 12, 34)]
    stars = [(15, 15, 5), (88, 14, 4), (90, 45, 5), (12, 45, 4), (15, 120, 5), (88, 122, 4.5)]
    moon = disc(48, 25, 12)
    windows = (*panes, *(star(*s) for s in stars), moon)
    return Design("lantern", plate(105, 148, 4), windows, (star(48, 25, 6),))


def lighthouse() -> Design:
    """A tower with arched windows, rays of the lamp, waves."""
    tower = [arch(44, 50 + 22 * k, 10, 14) for k in range(4)]
    lamp = [arch(42, 22, 14, 15)]
    rays = [Polygon([(36, 30), (8, 22 + 9 * k), (8, 26 + 9 * k)]) for k in (0,)] + [
        Polygon([(62, 30), (92, 20), (92, 28)])
    ]
    waves = [leaf(8 + 30 * k, 138, 26, 5, 0) for k in range(3)]
    windows = (*lamp, *tower, *rays, *waves)
    return Design("lighthouse", plate(100, 150, 3), windows)


def jar() -> Design:
    """A jar full of fireflies: each a body and two wings; the lid has a letter-like ring."""
    bodies = [(30, 60), (60, 55), (45, 80), (75, 85), (28, 100), (58, 110)]
    windows = []
    for x, y in bodies:
        windows += [
            leaf(x, y, 9, 4.5, 70),
            leaf(x - 2, y - 2, 9, 4, 200),
            leaf(x + 3, y - 2, 9, 4, -20),
        ]
    ring = disc(52, 30, 9)
    neck = [
        (20, 8),
        (84, 8),
        (84, 20),
        (94, 34),
        (94, 128),
        (84, 140),
        (20, 140),
        (10, 128),
        (10, 34),
        (20, 20),
    ]
    return Design("jar", Polygon(neck), (*windows, ring), (disc(52, 30, 5),))


def street() -> Design:
    """Five houses with lit windows on a lying card."""
    windows: list[Polygon] = []
    for house in range(5):
        x = 8 + 27 * house
        floors = 2 + house % 3
        for floor in range(floors):
            for column in range(3):
                windows.append(box(x + 7.5 * column, 78 - 11.5 * floor, 5, 8))
        windows.append(arch(x + 7, 90, 6, 10))
    roof = [(0, 105), (0, 40)]
    for house in range(5):
        x = 3.5 + 27 * house
        roof += [(x, 40), (x + 13.5, 24), (x + 27, 40)]
    roof += [(142, 40), (142, 105)]
    return Design("street", Polygon(roof), tuple(windows))


def garden() -> Design:
    """Flowers of petals round a disc, grass, a moon."""
    windows: list[Polygon] = [disc(84, 20, 10)]
    for x, y, petals in ((28, 40, 6), (72, 62, 8), (34, 92, 7)):
        windows.append(disc(x, y, 3))
        for k in range(petals):
            a = 360 * k / petals
            fx, fy = x + 6 * math.cos(math.radians(a)), y + 6 * math.sin(math.radians(a))
            windows.append(leaf(fx, fy, 11, 4, a))
    windows += [leaf(10 + 11 * k, 138, 16, 3.4, -90 + 6 * (k % 3 - 1)) for k in range(8)]
    return Design("garden", plate(105, 148, 6), tuple(windows))


def all_designs() -> tuple[Design, ...]:
    """The five dies."""
    return (lantern(), lighthouse(), jar(), street(), garden())


def ring_points(area: Polygon) -> Sequence[tuple[float, float]]:
    """Corners of a polygon, the first not repeated."""
    return [(float(x), float(y)) for x, y in area.exterior.coords[:-1]]
