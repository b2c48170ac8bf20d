"""Pictures of a scene, at any scale: outlines, tapes, parts, signs drawn as strokes."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..records import record
from . import look
from .content import Area, Box, Disc, Item, Line, Point
from .scene import Paper, Piece, Scene, Tape

#: Outlines are followed within this on paper (mm).
FINE = 0.02

#: How much of what is under it a pull tab hides.
TAB = 0.6

#: Signs along a tape stand so far apart on paper (mm).
APART = 22.0


@record
class Fit:
    """How mm of the card become mm of the page: x' = left + scale * (+-x), y' = top + scale * y."""

    scale: float
    left: float
    top: float
    mirrored: bool = False

    def points(self, points: np.ndarray) -> np.ndarray:
        """(n, 2) of the card -> (n, 2) of the page."""
        flip = -1.0 if self.mirrored else 1.0
        return points * (self.scale * flip, self.scale) + (self.left, self.top)

    def point(self, at: Point) -> Point:
        """One place of the card on the page."""
        x, y = self.points(np.array([at]))[0]
        return (float(x), float(y))


def fit_into(extent: Box, box: Box, largest: float = 1.0, mirrored: bool = False) -> Fit:
    """The largest picture of an extent in the middle of a box, at most at a scale."""
    wide, high = max(extent[2] - extent[0], 1e-6), max(extent[3] - extent[1], 1e-6)
    scale = min((box[2] - box[0]) / wide, (box[3] - box[1]) / high, largest)
    middle = (extent[0] + extent[2]) / 2.0 * (-1.0 if mirrored else 1.0)
    return Fit(
        scale,
        (box[0] + box[2]) / 2.0 - scale * middle,
        (box[1] + box[3]) / 2.0 - scale * (extent[1] + extent[3]) / 2.0,
        mirrored,
    )


def rings(geometry: BaseGeometry, fit: Fit) -> tuple[tuple[Point, ...], ...]:
    """Every ring of an area on the page."""
    lean = shapely.simplify(geometry, FINE / fit.scale)
    found = []
    for part in shapely.get_parts(lean):
        if part.geom_type != "Polygon" or part.is_empty:
            continue
        for ring in (part.exterior, *part.interiors):
            points = fit.points(shapely.get_coordinates(ring)[:-1])
            found.append(tuple((float(x), float(y)) for x, y in points))
    return tuple(found)


def area(
    geometry: BaseGeometry, fit: Fit, fill: str | None, stroke: str | None, width: float,
    opacity: float = 1.0,
) -> list[Item]:  # fmt: skip
    """An area on the page; nothing where there is none."""
    found = rings(geometry, fit)
    return [Area(found, fill, stroke, width, opacity)] if found else []


def outline(geometry: BaseGeometry, fit: Fit, width: float, colour: str,
            dash: tuple[float, ...] = ()) -> list[Item]:  # fmt: skip
    """The edges of an area as lines."""
    return [Line(ring, width, colour, True, dash) for ring in rings(geometry, fit)]


def line(geometry: BaseGeometry, fit: Fit, width: float, colour: str,
         dash: tuple[float, ...] = ()) -> list[Item]:  # fmt: skip
    """A line of the card."""
    found = []
    for part in shapely.get_parts(geometry):
        points = fit.points(shapely.get_coordinates(part))
        if len(points) > 1:
            found.append(Line(tuple((float(x), float(y)) for x, y in points), width, colour,
                              False, dash))  # fmt: skip
    return list(found)


def sign(at: Point, arm: float, plus: bool, colour: str, width: float) -> list[Item]:
    """A plus or a minus as strokes."""
    x, y = at
    level: list[Item] = [Line(((x - arm, y), (x + arm, y)), width, colour)]
    return [*level, Line(((x, y - arm), (x, y + arm)), width, colour)] if plus else level


def tape(one: Tape, fit: Fit, hidden: BaseGeometry | None = None) -> list[Item]:
    """A tape in full: dark or light, with its signs where nothing (`hidden`) will cover them."""
    plus = one.sign == "positive"
    if one.sign is None:
        return area(one.geometry, fit, look.PALE, look.GREY, 0.15)
    items = area(
        one.geometry, fit, look.PLUS if plus else look.MINUS, look.PLUS if plus else look.ON_MINUS,
        0.2,
    )  # fmt: skip
    arm = min(0.24 * one.width * fit.scale, 1.1)
    colour = look.ON_PLUS if plus else look.ON_MINUS
    for at in sign_places(one, fit):
        if hidden is not None and hidden.distance(shapely.Point(at)) < 1.5 * arm:
            continue
        items += sign(at, arm, plus, colour, max(0.16, arm * 0.32))
    return items


def sign_places(one: Tape, fit: Fit) -> list[Point]:
    """Where signs stand on a tape: inside it, about evenly."""
    inner = shapely.buffer(one.geometry, -0.42 * one.width)
    core = inner if not inner.is_empty else one.geometry
    edge = core.boundary if core.geom_type != "Point" else core
    length = float(shapely.length(edge)) / 2.0
    if length <= 0.0:
        return [fit.point((one.geometry.centroid.x, one.geometry.centroid.y))]
    count = max(1, round(length * fit.scale / APART))
    places: list[Point] = []
    for step in range(4 * count):
        at = _along(edge, (step + 0.5) / (4 * count))
        point = fit.point(at)
        if all(np.hypot(point[0] - x, point[1] - y) >= 0.7 * APART for x, y in places):
            places.append(point)
    return places


def _along(edge: BaseGeometry, share: float) -> Point:
    lines = shapely.line_merge(edge) if edge.geom_type == "MultiLineString" else edge
    parts = list(shapely.get_parts(lines))
    rest = share * float(sum(shapely.length(part) for part in parts))
    for part in parts:
        if rest <= part.length or part is parts[-1]:
            point = part.interpolate(rest)
            return (float(point.x), float(point.y))
        rest -= part.length
    raise AssertionError("a line without parts")


def paper(one: Paper, fit: Fit) -> list[Item]:
    """An insulating patch, hatched so that it is told from all else."""
    items = area(one.geometry, fit, look.PAPER, look.PAPER_EDGE, 0.25)
    left, top, right, bottom = one.geometry.bounds
    step = 1.4 / fit.scale
    count = int((right - left + bottom - top) / step)
    hatch = [
        ((left + k * step, top), (left + k * step - (bottom - top), bottom))
        for k in range(1, count + 1)
    ]
    if hatch:
        lines = shapely.intersection(shapely.multilinestrings(hatch), one.geometry)
        parts = [p for p in shapely.get_parts(lines) if p.geom_type == "LineString"]
        items += [i for part in parts for i in line(part, fit, 0.12, look.PAPER_EDGE)]
    return items


def piece(one: Piece, fit: Fit) -> list[Item]:
    """A part in full: body, feet with their signs, lens or coin."""
    cell = one.kind == "cell"
    fill, cover = look.METAL if cell else look.BODY, TAB if one.kind == "pull-tab" else 1.0
    items = area(one.body, fit, fill, look.BODY_EDGE, 0.2, cover)
    for name, foot in one.feet:
        if one.bare and one.body.covers(foot):
            continue  # under the coin or part of its face, which has a sign of its own
        items += area(foot, fit, look.FOOT, look.BODY_EDGE, 0.15)
        if name in ("positive-pad", "negative-pad"):
            items += foot_sign(name, foot, fit, look.INK, 0.2)
    if cell:
        items += _coin(one, fit)
    if one.kind == "light":
        items.append(Disc(fit.point(one.at), max(0.5, 1.1 * fit.scale), look.LENS,
                          look.BODY_EDGE, 0.15))  # fmt: skip
    return items


def _coin(cell: Piece, fit: Fit) -> list[Item]:
    """The coin, bare or in its holder, with the sign of the face that looks up."""
    left, top, right, bottom = cell.body.bounds
    radius = 0.44 * min(right - left, bottom - top) * fit.scale
    at = fit.point(cell.at)
    coin: list[Item] = [Disc(at, radius, "#f6f7f8", look.BODY_EDGE, 0.15)]
    return coin + sign(at, 0.3 * radius, cell.up != "minus", look.INK, max(0.2, 0.06 * radius))


def foot_sign(name: str, foot: BaseGeometry, fit: Fit, colour: str, width: float) -> list[Item]:
    """The sign of a foot, in its middle."""
    left, top, right, bottom = foot.bounds
    arm = min(0.3 * min(right - left, bottom - top) * fit.scale, 1.3)
    centre = fit.point(((left + right) / 2.0, (top + bottom) / 2.0))
    return sign(centre, arm, name == "positive-pad", colour, width)


def ghost(scene: Scene, done: Iterable[Tape | Paper | Piece], fit: Fit) -> list[Item]:
    """The base and what lies on it already, pale."""
    items = area(scene.base, fit, look.BASE, look.BASE_EDGE, 0.25)
    for fold in scene.folds:
        items += line(fold, fit, 0.2, look.GREY, (1.2, 0.8))
    for thing in done:
        shape = thing.body if isinstance(thing, Piece) else thing.geometry
        items += outline(shape, fit, 0.12, look.PALE)
    return items
