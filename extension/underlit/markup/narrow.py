"""A narrow place as it is drawn: a line across it with its figures beside it, and a ring round
every foot that it keeps tape away from.

Colours are those of a stop; all on a white halo, so that it can be read on anything. Page mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, hypot, radians, sin

import shapely
from shapely.geometry import LineString, MultiPoint
from shapely.geometry import Point as Spot
from shapely.geometry.base import BaseGeometry

from ..geometry.spacing import step_along
from ..language import joined, say
from ..records import record
from .marks import CAPITAL, HALO, LOOKS, RIM
from .primitives import Box, Circle, Group, Item, Mark, Path, Point, Region, Text
from .text import text_width

#: Widths of the line across and of rings; half a bar at its ends (mm).
LINE, BAR = 0.5, 1.5

#: Size and line height of the figures, the white plate reaches so far beyond them (mm).
SIZE, LEADING, AIR = 2.8, 3.8, 0.5

#: Radius of a ring round a foot; of the disc with its number, and the size of that (mm).
RING, DISC, NUMBER = 3.0, 1.9, 2.5

#: A ring this near to its own mark's place needs no number (mm).
AT_PLACE = 6.5

#: Figures stand this far from the middle of their line at least, tried in turn (mm).
NEAR = (1.2, 3.0, 5.0, 8.0, 12.0, 18.0, 26.0)
DIRECTIONS = 24

#: Distance of the points by which a line is kept free of marks (mm).
STEP = 3.0

#: Words keep this distance from all else (mm).
CLEAR = 0.4

_DARK = LOOKS["stop"].dark


@record
class Foot:
    """A foot that no tape reaches: its middle, the middle of its light, its finding's number."""

    at: Point
    light: Point
    number: int


@record
class Narrow:
    """A narrow place: the ends of the line across it (None: none to draw), the lines of words
    beside it, the feet behind it."""

    ends: tuple[Point, Point] | None
    words: tuple[str, ...]
    feet: tuple[Foot, ...]


def narrow_groups(places: Sequence[Narrow], marks: Sequence[Mark], page: Box) -> tuple[Group, ...]:
    """One group for each line with its figures, and for each foot; clear of the marks."""
    feet = [_foot(foot, marks) for place in places for foot in place.feet]
    taken = [_taken(items) for _, items in feet]
    taken += [shape for mark in marks for shape in _of_mark(mark)]
    taken += [LineString(place.ends).buffer(BAR) for place in places if place.ends is not None]
    groups = []
    for k, place in enumerate(places, 1):
        if place.ends is None:
            continue
        words = _words(place, taken, page)
        taken.append(_taken(words))
        numbers = joined([str(foot.number) for foot in place.feet])
        title = (
            say("Narrow place of {numbers}", numbers=numbers) if numbers else say("Narrow place")
        )
        groups.append(Group(f"narrow-{k}", title, (*_across(*place.ends), *words)))
    rings = [
        Group(f"foot-{number}", say("Foot that {number} is about", number=number), items)
        for number, items in feet
    ]
    return (*rings, *groups)


def seen_of(places: Sequence[Narrow]) -> list[Point]:
    """Points of lines across and of feet, so near to each other that no mark fits between."""
    found = [foot.at for place in places for foot in place.feet]
    for place in places:
        if place.ends is not None:
            line = LineString(place.ends)
            count = 1 + int(line.length / step_along(STEP, line.length))
            found += [_at(line.interpolate(k / count, normalized=True)) for k in range(count + 1)]
    return found


def _at(spot: Spot) -> Point:
    return (float(spot.x), float(spot.y))


def reach_of(groups: Sequence[Group]) -> float:
    """How far to the right all items of groups reach (mm)."""
    bounds = [_taken(group.items).bounds[2] for group in groups if group.items]
    return max(bounds, default=0.0)


def _across(a: Point, b: Point) -> Iterator[Item]:
    """The line with a bar at each end."""
    far = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    ux, uy = -(b[1] - a[1]) / far * BAR, (b[0] - a[0]) / far * BAR
    lines = [(a, b)]
    lines += [((x - ux, y - uy), (x + ux, y + uy)) for x, y in (a, b)]
    for colour, width in ((HALO, LINE + RIM), (_DARK, LINE)):
        for line in lines:
            yield Path(line, False, None, colour, width)


def _foot(foot: Foot, marks: Sequence[Mark]) -> tuple[int, tuple[Item, ...]]:
    """The ring round a foot; with its number where its mark stands elsewhere."""
    items: list[Item] = [
        Circle(foot.at, RING, None, HALO, LINE + RIM),
        Circle(foot.at, RING, None, _DARK, LINE),
    ]
    place = next((mark.place for mark in marks if mark.number == foot.number), foot.at)
    if hypot(place[0] - foot.at[0], place[1] - foot.at[1]) > AT_PLACE:
        dx, dy = foot.at[0] - foot.light[0], foot.at[1] - foot.light[1]
        far = hypot(dx, dy) or 1.0
        away = (RING + DISC) / far
        x, y = foot.at[0] + dx * away, foot.at[1] + dy * away
        items.append(Circle((x, y), DISC, HALO, _DARK, LINE))
        base = (x, y + CAPITAL * NUMBER / 2.0)
        items.append(Text(base, str(foot.number), NUMBER, True, "middle", _DARK))
    return foot.number, tuple(items)


def _words(place: Narrow, taken: Sequence[BaseGeometry], page: Box) -> tuple[Item, ...]:
    """The figures on a white plate, at the first free place beside the middle of the line."""
    assert place.ends is not None
    (ax, ay), (bx, by) = place.ends
    middle = ((ax + bx) / 2.0, (ay + by) / 2.0)
    half = max(text_width(word, SIZE, True) for word in place.words) / 2.0 + AIR
    high = LEADING * len(place.words) / 2.0 + AIR
    free = shapely.union_all([shape.buffer(CLEAR) for shape in taken])
    x0, y0, x1, y1 = page
    spots = list(_spots(middle, half, high))
    plates = [shapely.box(x - half, y - high, x + half, y + high) for x, y in spots]
    clear = [k for k, plate in enumerate(plates) if not plate.intersects(free)]
    inside = [k for k in clear if shapely.box(x0, y0, x1, y1).contains(plates[k])]
    x, y = spots[(inside or clear or [0])[0]]
    corners = (
        (x - half, y - high),
        (x + half, y - high),
        (x + half, y + high),
        (x - half, y + high),
    )
    top = y - LEADING * len(place.words) / 2.0
    lines = [
        Text(
            (x, top + LEADING * (k + 0.5) + CAPITAL * SIZE / 2.0), word, SIZE, True, "middle", _DARK
        )
        for k, word in enumerate(place.words)
    ]
    return (Region((corners,), HALO, 0.92, None, 0.0), *lines)


def _spots(middle: Point, half: float, high: float) -> Iterator[Point]:
    """Middles of plates round a place, nearest first."""
    for far in NEAR:
        for k in range(DIRECTIONS):
            angle = radians(360.0 * k / DIRECTIONS)
            c, s = cos(angle), sin(angle)
            edge = min(half / max(abs(c), 1e-9), high / max(abs(s), 1e-9))
            yield (middle[0] + (edge + far) * c, middle[1] + (edge + far) * s)


def _of_mark(mark: Mark) -> tuple[BaseGeometry, BaseGeometry]:
    """What a mark and its leader line cover."""
    return Spot(mark.centre).buffer(mark.reach), LineString([mark.place, mark.centre]).buffer(1.0)


def _taken(items: Sequence[Item]) -> BaseGeometry:
    """What items cover."""
    shapes: list[BaseGeometry] = []
    for item in items:
        if isinstance(item, Circle):
            shapes.append(Spot(item.at).buffer(item.radius + item.width / 2.0))
        elif isinstance(item, Path):
            shapes.append(MultiPoint(item.points).convex_hull.buffer(item.width / 2.0))
        elif isinstance(item, Region):
            shapes += [MultiPoint(ring).convex_hull for ring in item.rings]
    return shapely.union_all(shapes)
