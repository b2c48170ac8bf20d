"""True-size pages: the back sheet to print on, trace, rub down or prick through, and the front."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from math import prod

import shapely
from shapely.geometry.base import BaseGeometry

from ..language import say
from ..records import record
from . import look
from .content import Box, Disc, Item, Line, Point, Words
from .drawing import Fit, foot_sign, line, outline
from .fonts import shortened, width
from .frame import RULES, Draft, Flow, check_rules, room
from .front import front_lines
from .kinds import Kind, offered
from .labels import Labels, text_box
from .paper import Paper
from .pricks import pricked
from .scene import Piece, Scene, Tape
from .tiling import Tile, grid_of, seam_marks, tiles_of

#: Corner marks stand this far off the base and are this long (mm).
OFF, MARK = 1.5, 5.0

#: Rules take this much at the left and below (mm).
SIDE, BELOW = 11.0, 8.0

#: Heading and three lines of words; heading and two, which is what they take at most where the
#: paper lies on its side (mm).
TOP, HEAD = 21.0, 16.0

#: A card that takes more pages than this in one kind is not printed at true size.
MOST_TILES = 30


@record
class Ground:
    """Where a plan is drawn, and boxes in it that hold words already."""

    box: Box
    taken: tuple[Box, ...]


@record
class _Way:
    """How a picture is laid out: `wide` paper lies on its side; `extent` of the picture and room
    on a page in mm."""

    wide: bool
    extent: Box
    across: float
    down: float

    @property
    def pages(self) -> int:
        """Pages that it takes: of something vast very many, so they are not made to be counted."""
        return prod(grid_of(self.extent, self.across, self.down))


def tile_count(scene: Scene, paper: Paper) -> int:
    """Pages that one kind takes at most."""
    return max(_laid_out(scene, paper, kind).pages for kind in offered(scene))


def printed(scene: Scene, paper: Paper, words: Sequence[str]) -> list[Kind]:
    """The kinds among those asked for that have something to show and fit on pages."""
    fits = tile_count(scene, paper) <= MOST_TILES
    return [kind for kind in offered(scene) if fits and kind.word in words]


def true_size_pages(scene: Scene, paper: Paper, kinds: Sequence[Kind]) -> list[Draft]:
    """All pages of these kinds."""
    return [page for kind in kinds for page in _pages(scene, paper, kind)]


def _pages(scene: Scene, paper: Paper, kind: Kind) -> list[Draft]:
    way = _laid_out(scene, paper, kind)
    tiles = tiles_of(way.extent, way.across, way.down)
    rows, columns = tiles[-1].row + 1, tiles[-1].column + 1
    return [_page(scene, paper, kind, way.wide, tile, rows, columns) for tile in tiles]


def _laid_out(scene: Scene, paper: Paper, kind: Kind) -> _Way:
    """On as few pages as can be, upright where equal."""
    west, north, east, south = kind.extent(scene)
    reach = OFF + MARK + 0.5
    extent = (west - reach, north - reach, east + reach, south + reach)
    if kind.flips(scene):
        extent = (-extent[2], extent[1], -extent[0], extent[3])
    ways = []
    for wide in (False, True):
        _, top, _, bottom = room(paper, wide)
        if wide and bottom - top < RULES + HEAD:
            continue  # the upright rules would not fit
        box = _body(paper, wide)
        ways.append(_Way(wide, extent, box[2] - box[0], box[3] - box[1]))
    return min(ways, key=lambda way: (way.pages, way.wide))


def _body(paper: Paper, wide: bool) -> Box:
    """Where the picture stands: beside and above the check rules."""
    left, top, right, bottom = room(paper, wide)
    return (left + SIDE, top + TOP, right, bottom - BELOW)


def _page(
    scene: Scene, paper: Paper, kind: Kind, wide: bool, tile: Tile, rows: int, columns: int
) -> Draft:
    left, top, right, bottom = room(paper, wide)
    body = _body(paper, wide)
    flow = Flow(left, top, right - left)
    number = tile.row * columns + tile.column + 1
    chapter = title = say(kind.title)
    part = rows * columns > 1
    words = kind.said(scene)
    if part:
        title = say("{title} (part {number} of {parts})",
                    title=chapter, number=number, parts=rows * columns)  # fmt: skip
        words += " " + say(
            "Cut one of two neighbours along the dashes; lay its half rings on the other's."
        )
    flow.heading(title, look.TITLE, 0.5)
    flow.lines(words, 2.7, colour=look.INK)
    fit = Fit(1.0, body[0] - tile.view[0], body[1] - tile.view[1], kind.flips(scene))
    near = _near(scene, tile.view, kind.flips(scene)) if part else scene
    seams = seam_marks(tile, rows, columns, (body[0], body[1])) if part else []
    taken = tuple(text_box(item) for item in seams if isinstance(item, Words))
    drawn = _clipped(_DRAW[kind.word](near, fit, Ground(body, taken)), body)
    start = bottom - RULES - 1.0
    rules = [*check_rules((left + SIDE, bottom - 5.5), False), *check_rules((left, start), True)]
    return Draft(title, (*flow.items, *drawn, *seams, *rules), wide, chapter)


def _near(scene: Scene, view: Box, mirrored: bool) -> Scene:
    """What of a scene a tile can show."""
    left, top, right, bottom = view
    frame = shapely.box(-right if mirrored else left, top, -left if mirrored else right, bottom)
    shapely.prepare(frame)

    def pieces(some: tuple[Piece, ...]) -> tuple[Piece, ...]:
        return tuple(
            p for p in some if any(map(frame.intersects, (p.body, *(foot for _, foot in p.feet))))
        )

    return replace(
        scene,
        tapes=tuple(t for t in scene.tapes if frame.intersects(t.geometry)),
        papers=tuple(p for p in scene.papers if frame.intersects(p.geometry)),
        lights=pieces(scene.lights),
        cells=pieces(scene.cells),
        others=pieces(scene.others),
        tabs=pieces(scene.tabs),
    )


def _clipped(items: Sequence[Item], box: Box) -> list[Item]:
    """What lies in a box; lines end at its edge."""
    frame = shapely.box(*box)
    kept: list[Item] = []
    for item in items:
        if isinstance(item, Line):
            ring = [*item.points, item.points[0]] if item.closed else list(item.points)
            whole = shapely.LineString(ring)
            if frame.covers(whole):
                kept.append(item)
                continue
            for piece in shapely.get_parts(shapely.intersection(whole, frame)):
                if piece.geom_type == "LineString" and not piece.is_empty:
                    points = tuple((float(x), float(y)) for x, y in piece.coords)
                    kept.append(Line(points, item.width, item.colour, False, item.dash))
        elif isinstance(item, Disc | Words):
            if frame.buffer(-2.0).covers(shapely.Point(item.at)):
                kept.append(item)
        else:
            kept.append(item)
    return kept


def _corner_marks(sheet: BaseGeometry, fit: Fit) -> list[Item]:
    """Where the corners of a sheet's box come to lie."""
    left, top, right, bottom = sheet.bounds
    (x0, y0), (x1, y1) = fit.point((left, top)), fit.point((right, bottom))
    x0, x1 = min(x0, x1), max(x0, x1)
    items: list[Item] = []
    for x, way in ((x0, -1.0), (x1, 1.0)):
        for y, rise in ((y0, -1.0), (y1, 1.0)):
            items.append(Line(((x, y + rise * OFF), (x, y + rise * (OFF + MARK))), 0.15))
            items.append(Line(((x + way * OFF, y), (x + way * (OFF + MARK), y)), 0.15))
    return items


def _plan(scene: Scene, fit: Fit, pen: float, colour: str) -> list[Item]:
    """Edges of everything that is laid, with the signs of the feet."""
    items: list[Item] = []
    for tape in scene.tapes:
        items += outline(tape.geometry, fit, pen, colour)
    for patch in scene.papers:
        items += outline(patch.geometry, fit, pen, colour, (1.6, 1.0))
    for piece in (*scene.lights, *scene.cells, *scene.others, *scene.tabs):
        items += outline(piece.body, fit, pen, colour)
        for name, foot in piece.feet:
            items += outline(foot, fit, 0.6 * pen, colour)
            if name in ("positive-pad", "negative-pad"):
                items += foot_sign(name, foot, fit, colour, pen)
    return items


def _hairlines(scene: Scene, fit: Fit, _ground: Ground) -> list[Item]:
    items = outline(scene.base, fit, 0.08, look.GREY, (0.8, 0.8))
    for fold in scene.folds:
        items += line(fold, fit, 0.08, look.GREY, (2.0, 1.0))
    return [*items, *_plan(scene, fit, 0.08, look.INK), *_corner_marks(scene.base, fit)]


def _bold(scene: Scene, fit: Fit, ground: Ground) -> list[Item]:
    items = outline(scene.base, fit, 0.5, look.INK)
    for fold in scene.folds:
        items += line(fold, fit, 0.35, look.INK, (2.5, 1.5))
    items += _plan(scene, fit, 0.45, look.INK)
    return [*items, *_names(scene, fit, ground), *_corner_marks(scene.base, fit)]


def _names(scene: Scene, fit: Fit, ground: Ground) -> list[Item]:
    """Names of tapes in their middle, numbers beside lights."""
    parts = [p.body for p in (*scene.lights, *scene.cells, *scene.others)]
    off = _on_page(shapely.union_all([*parts, *(t.geometry for t in scene.tapes)]), fit)
    labels = Labels(ground.box, off)
    for box in ground.taken:
        labels.take(box)
    items: list[Item] = []
    bodies = shapely.STRtree(parts)
    for tape in scene.tapes:
        at = fit.point(middle_of(tape.geometry, bodies))
        items += labels.put(tape.label, at, _fitting(tape), look.INK)
    for light in scene.lights:
        items += labels.put(str(light.number), fit.point(light.at), 2.8, look.INK, reach=3.5)
    return items


def _fitting(tape: Tape) -> float:
    """Size of letters that keep within a tape's edges, as long as they stay readable."""
    size = min(3.2, 0.62 * tape.width)
    return max(2.0, size * min(1.0, (tape.width - 0.8) / width(tape.label, size, True)))


def middle_of(geometry: BaseGeometry, bodies: shapely.STRtree) -> Point:
    """A place well inside an area and clear of parts, near its middle where there is a choice."""
    near = bodies.geometries.take(bodies.query(geometry, predicate="dwithin", distance=1.0))
    free = shapely.difference(geometry, shapely.buffer(shapely.union_all(near), 1.0))
    parts = [p for p in shapely.get_parts(free) if p.geom_type == "Polygon" and not p.is_empty]
    if not parts:
        parts = [p for p in shapely.get_parts(geometry) if p.geom_type == "Polygon"]
    best = max(parts, key=lambda p: (round(p.area, 3), -p.bounds[1]))
    centre = best.centroid
    if not shapely.buffer(best, -1.0).contains(centre):
        centre = shapely.get_point(shapely.maximum_inscribed_circle(best, tolerance=0.2), 0)
    return (float(centre.x), float(centre.y))


def tree_of(pieces: Iterable[Piece]) -> shapely.STRtree:
    """Bodies to look for by place."""
    return shapely.STRtree([piece.body for piece in pieces])


def _on_page(geometry: BaseGeometry, fit: Fit) -> BaseGeometry:
    return shapely.transform(geometry, fit.points)


def _stencil(scene: Scene, fit: Fit, ground: Ground) -> list[Item]:
    items: list[Item] = []
    for tape in scene.tapes:
        items += pricked(tape.geometry, fit)
    for patch in scene.papers:
        items += pricked(patch.geometry, fit)
    for cell in (*scene.cells, *scene.others):
        items += pricked(cell.body, fit)
    items += pricked(scene.base, fit)
    for light in scene.lights:
        x, y = fit.point(light.at)
        items.append(Disc((x, y), 0.6, None, look.INK, 0.2))
        items += [
            Line(((x - 1.6, y), (x + 1.6, y)), 0.15),
            Line(((x, y - 1.6), (x, y + 1.6)), 0.15),
        ]
        for name, foot in light.feet:
            items += outline(foot, fit, 0.1, look.GREY)
            items += foot_sign(name, foot, fit, look.INK, 0.2)
    return [*items, *_names(scene, fit, ground), *_corner_marks(scene.base, fit)]


def _front(scene: Scene, fit: Fit, ground: Ground) -> list[Item]:
    labels = Labels(ground.box)
    for box in ground.taken:
        labels.take(box)
    return [*front_lines(scene, fit, labels), *_corner_marks(scene.front, fit)]


_DRAW: dict[str, Callable[[Scene, Fit, Ground], list[Item]]] = {
    "base": _hairlines,
    "trace": _bold,
    "window": _bold,
    "stencil": _stencil,
    "front": _front,
}


def too_large(scene: Scene) -> str:
    """Words for a card that is not printed at true size."""
    left, top, right, bottom = scene.extent
    wide, high = f"{right - left:.0f}", f"{bottom - top:.0f}"
    return shortened(say("{wide} x {high} mm", wide=wide, high=high), 3.0, 80.0)
